"""Pages that stand alone: styles, scripts, fonts and pictures in the file itself, for a stick.

Made from the pages of the site, so that both are one: only what a page asks for is put into it, and
its policy then names the very scripts and styles that may run, by their digests.
"""

from __future__ import annotations

import base64
import hashlib
import re
from collections.abc import Callable, Iterable, Mapping
from functools import partial
from html import escape
from urllib.parse import unquote

from compiler.emit.job import OutputJob, digest

_STYLE = re.compile(r'<link rel="stylesheet" href="([^"]*)">')
_SCRIPT = re.compile(r'<script src="([^"]*)"></script>')
_ADDRESS = re.compile(r' (src|href)="([^"#][^"]*)"')
_FONT = re.compile(r'url\("([^"]*)"\)')
_POLICY = re.compile(r'(<meta http-equiv="Content-Security-Policy" content=")[^"]*(">)')

_TYPES = {
    "svg": "image/svg+xml", "png": "image/png", "jpg": "image/jpeg", "jpeg": "image/jpeg",
    "mp4": "video/mp4", "webm": "video/webm", "ttf": "font/ttf",
}  # fmt: skip


def alone_jobs(pages: Iterable[OutputJob]) -> list[OutputJob]:
    """Return a page that stands alone for every procedure; `pages` are the files of the site."""
    files = {job.path: job for job in pages}
    shared = digest(*(job.key for path, job in files.items() if path.startswith("site/assets/")))
    return [
        OutputJob(
            f"alone/{path.removeprefix('site/procedures/')}",
            digest("alone-1", shared, job.key),
            partial(_alone, job, files),
        )
        for path, job in files.items()
        if path.startswith("site/procedures/")
    ]


def _alone(page: OutputJob, files: Mapping[str, OutputJob]) -> bytes:
    text = page.make().decode("utf-8")
    allowed: dict[str, list[str]] = {"script": [], "style": []}

    def inside(kind: str, made: str) -> str:
        sha = base64.b64encode(hashlib.sha256(made.encode()).digest()).decode()
        allowed[kind].append(f"'sha256-{sha}'")
        return f"<{kind}>{made}</{kind}>"

    text = _ADDRESS.sub(_put_in(files), text)
    text = _STYLE.sub(lambda m: inside("style", _style(_site_path(m[1]), files)), text)
    text = _SCRIPT.sub(lambda m: inside("script", _text(_site_path(m[1]), files)), text)
    policy = (
        f"default-src 'none'; script-src {' '.join(allowed['script'])}; "
        f"style-src {' '.join(allowed['style'])}; img-src data:; media-src data:; font-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
    text = _POLICY.sub(lambda m: m[1] + escape(policy) + m[2], text)
    return text.encode("utf-8")


def _site_path(address: str) -> str:
    """Return the path in the output of an address on a page of a procedure."""
    return "site/" + unquote(address.removeprefix("../").partition("#")[0])


def _text(path: str, files: Mapping[str, OutputJob]) -> str:
    return files[path].make().decode("utf-8")


def _style(path: str, files: Mapping[str, OutputJob]) -> str:
    return _FONT.sub(lambda m: f'url("{_data(files, "site/assets/" + m[1])}")', _text(path, files))


def _put_in(files: Mapping[str, OutputJob]) -> Callable[[re.Match[str]], str]:
    """Return what replaces an address: the file itself, or nothing where another page is meant.

    Styles and scripts are left for later: what is in them is no markup.
    """

    def put(match: re.Match[str]) -> str:
        path = _site_path(match[2])
        if path.endswith((".css", ".js")):
            return match[0]
        if not path.startswith(("site/assets/", "site/pictures/")):
            return ""
        part = match[2].partition("#")[2]
        return f' {match[1]}="{_data(files, path)}{"#" + part if part else ""}"'

    return put


def _data(files: Mapping[str, OutputJob], path: str) -> str:
    kind = _TYPES[path.rpartition(".")[2].lower()]
    return f"data:{kind};base64,{base64.b64encode(files[path].make()).decode()}"
