"""What a check offers mends its finding and brings no other; where unsure, nothing is offered."""

from __future__ import annotations

import pytest
from case_support import check_texts

from compiler.findings.model import Finding

HEAD = """\
procedure job "Job"
  revision A 2026-10-05
  parts
    lid    "lid"
    gasket "gasket"  behind lid  renew
    plate[1..2] "plate"
  fasteners
    lid-screw 4 × M6×16 ISO 4762 8.8  holds lid  torque 9 N·m
    plate-nut M6 ISO 4032 8  holds plate  torque 9 N·m
  connections
    hose hose "hose"  renew
"""
USES = """\
  check plate, gasket, hose, plate-nut
"""

BACK = """\
  section "Back"
    fit lid   # by hand
      note "Arrow up."

        "More."
"""

MENDED = {
    "an old gasket": (
        "  remove lid, gasket\n  fit gasket\n  fit lid\n  tighten lid-screw\n",
        "  remove lid, gasket\n  fit new gasket\n  fit lid\n  tighten lid-screw\n",
    ),
    "an old gasket among others": (
        "  remove lid, gasket\n  install gasket, lid\n  tighten lid-screw\n",
        "  remove lid, gasket\n  install new gasket, lid\n  tighten lid-screw\n",
    ),
    "an old hose": (
        "  disconnect hose\n  connect hose\n",
        "  disconnect hose\n  connect new hose\n",
    ),
    "screws only put in": (
        "  remove lid\n  fit lid\n",
        "  remove lid\n  fit lid\n  tighten lid-screw\n",
    ),
    "screws only put in, with a note, in a section": (
        f"  remove lid\n{BACK}  check lid\n",
        f"  remove lid\n{BACK}    tighten lid-screw\n  check lid\n",
    ),
}

NOT_OFFERED = {
    "said to be the old one": "  remove lid, gasket\n  fit old gasket\n  fit lid\n"
    "  tighten lid-screw\n",
    "on one way only": '  remove lid\n  remove gasket only if "it is worn"\n  fit gasket\n'
    "  fit lid\n  tighten lid-screw\n",
    "slackened": "  slacken lid-screw\n",
    "in one arm": '  remove lid\n  ask wet "Is it wet?"\n  if wet is yes\n    fit lid\n'
    "  otherwise\n    fit lid\n    tighten lid-screw\n",
}


def found(body: str) -> tuple[str, tuple[Finding, ...]]:
    text = HEAD + USES + body
    return text, check_texts({"job.proc": text}).findings


@pytest.mark.parametrize("newline", ["\n", "\r\n"])
@pytest.mark.parametrize("name", MENDED)
def test_the_change_mends_its_finding_and_brings_no_other(name: str, newline: str) -> None:
    wrong, right = (part.replace("\n", newline) for part in MENDED[name])
    text, findings = found(wrong)
    assert len(findings) == 1
    fix = findings[0].fix
    assert fix is not None
    mended = text[: fix.span.start] + fix.text + text[fix.span.end :]
    assert mended == HEAD + USES + right
    assert check_texts({"job.proc": mended}).findings == ()


@pytest.mark.parametrize("name", NOT_OFFERED)
def test_where_it_is_not_sure_nothing_is_offered(name: str) -> None:
    _, findings = found(NOT_OFFERED[name])
    assert findings
    assert all(finding.fix is None for finding in findings)
