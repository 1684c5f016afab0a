"""What hangs under things and steps: safety, notes, protective equipment, pictures, times."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Literal

from compiler import model, syntax
from compiler.resolve import arguments as args
from compiler.resolve.clauses import checked
from compiler.resolve.context import Context
from compiler.resolve.numbers import whole
from compiler.resolve.pictures import PictureFacts, beside
from compiler.resolve.prose import prose
from compiler.resolve.refs import select
from compiler.resolve.values import ANGLE, HEIGHT, LENGTH, RATIO, duration, quantity
from compiler.resolve.words import hazard_word, protection_word

_SIGNALS: dict[str, Literal["danger", "warning", "caution", "notice"]] = {
    "danger": "danger",
    "warning": "warning",
    "caution": "caution",
    "notice": "notice",
}


@dataclass(slots=True)
class _Gathered:
    """The lists of an `Extras` while it is filled."""

    safety: list[model.Safety] = field(default_factory=list)
    notes: list[model.Prose] = field(default_factory=list)
    whys: list[model.Prose] = field(default_factory=list)
    wear: list[str] = field(default_factory=list)
    pictures: list[model.Picture] = field(default_factory=list)
    clips: list[model.Clip] = field(default_factory=list)
    takes: list[tuple[syntax.TakesLine, model.Duration]] = field(default_factory=list)
    people: list[tuple[syntax.PeopleLine, int]] = field(default_factory=list)


def extras(
    ctx: Context, lines: Iterable[syntax.Attachment], trailer: syntax.Trailer | None = None
) -> model.Extras:
    """Return what the lines under something say, and the time and people at the end of its line."""
    gathered = _Gathered()
    if trailer is not None:
        for line in (trailer.takes, trailer.people):
            if line is not None:
                _take(ctx, line, gathered)
    by_hand: list[syntax.HandlingLine] = []
    for attachment in lines:
        if isinstance(attachment, syntax.HandlingLine):
            by_hand.append(attachment)
        else:
            _take(ctx, attachment, gathered)
    return model.Extras(
        safety=tuple(gathered.safety),
        notes=tuple(gathered.notes),
        whys=tuple(gathered.whys),
        wear=tuple(dict.fromkeys(gathered.wear)),
        pictures=tuple(gathered.pictures),
        clips=tuple(gathered.clips),
        takes=gathered.takes[0][1] if gathered.takes else None,
        people=gathered.people[0][1] if gathered.people else 0,
        handling=_handling(ctx, by_hand),
    )


def _take(ctx: Context, line: syntax.Attachment, gathered: _Gathered) -> None:
    """Put one line into the lists."""
    if isinstance(line, syntax.SafetyLine):
        gathered.safety.append(_safety(ctx, line))
    elif isinstance(line, syntax.NoteLine):
        texts = gathered.notes if line.kind == "note" else gathered.whys
        texts += [prose(ctx, text) for text in line.texts]
    elif isinstance(line, syntax.WearLine):
        words = (protection_word(ctx, word) for word in line.items)
        gathered.wear += [word for word in words if word]
    elif isinstance(line, syntax.PictureLine):
        picture = _picture(ctx, line)
        gathered.pictures += [picture] if picture is not None else []
    elif isinstance(line, syntax.ClipLine):
        clip = _clip(ctx, line)
        gathered.clips += [clip] if clip is not None else []
    elif isinstance(line, syntax.TakesLine):
        time = duration(ctx.report, line)
        if gathered.takes:
            _twice(ctx, line, gathered.takes[0][0], "How long it takes")
        elif time is not None:
            gathered.takes.append((line, time))
    elif isinstance(line, syntax.PeopleLine):
        people = whole(ctx.report, line.count, "How many people", most=50)
        if gathered.people:
            _twice(ctx, line, gathered.people[0][0], "How many people it takes")
        elif people is not None:
            gathered.people.append((line, people))


def _handling(ctx: Context, lines: Sequence[syntax.HandlingLine]) -> tuple[model.Handling, ...]:
    """Return how a step lifts what it names; several lines under it say one thing together."""
    if not lines:
        return ()
    said = checked(ctx.report, [clause for line in lines for clause in line.clauses], once=True)
    return (
        model.Handling(
            lines[0].span,
            lifted=args.amount_of(ctx, said, "lifted", HEIGHT),
            hands_out=args.amount_of(ctx, said, "hands-out", LENGTH),
            turned=args.amount_of(ctx, said, "turned", ANGLE),
            grasp="good" if said.has("good-grasp") else "fair" if said.has("fair-grasp") else "",
        ),
    )


def _twice(
    ctx: Context,
    line: syntax.TakesLine | syntax.PeopleLine,
    first: syntax.TakesLine | syntax.PeopleLine,
    what: str,
) -> None:
    ctx.report.add(
        "duplicate-name",
        line.span,
        f"{what} is said twice.",
        (first.span, "said here already"),
        hint="Keep one of the two lines.",
    )


def _safety(ctx: Context, line: syntax.SafetyLine) -> model.Safety:
    signal = _SIGNALS.get(line.signal.text, "warning")
    hazard = hazard_word(ctx, line.hazard) if line.hazard is not None else ""
    return model.Safety(
        line.span,
        signal,
        hazard,
        prose(ctx, line.text),
        prose(ctx, line.consequence) if line.consequence is not None else None,
        prose(ctx, line.avoid) if line.avoid is not None else None,
    )


def _picture(ctx: Context, line: syntax.PictureLine) -> model.Picture | None:
    path = _usable(ctx, line.path, ("svg", "png", "jpeg"))
    caption = prose(ctx, line.caption) if line.caption is not None else None
    marks = tuple(mark for m in line.marks if (mark := _mark(ctx, m)) is not None)
    _each_number_once(ctx, line.marks)
    return model.Picture(line.span, path, caption, marks) if path else None


def _mark(ctx: Context, line: syntax.MarkLine) -> model.Mark | None:
    number = whole(ctx.report, line.number, "The number of a mark", most=99)
    x, y = (_share(ctx, side) for side in (line.x, line.y))
    target: model.Selection | model.Prose | None
    if isinstance(line.target, syntax.Text):
        target = prose(ctx, line.target)
    else:
        target = select(ctx, line.target)
    if number is None or x is None or y is None or target is None:
        return None
    return model.Mark(line.span, number, target, x, y)


def _share(ctx: Context, lit: syntax.QuantityLit) -> float | None:
    """Return a place on a picture as a share from 0 to 1."""
    found = quantity(ctx.report, lit, RATIO)
    if found is None:
        return None
    share = float(found.si)
    if not 0 <= share <= 1:
        ctx.report.add(
            "quantity-sanity",
            lit.span,
            "A mark stands inside of the picture: from 0 % to 100 %.",
            hint="Count from the top left corner: at 32 %, 40 %.",
        )
        return None
    return share


def _each_number_once(ctx: Context, marks: Sequence[syntax.MarkLine]) -> None:
    seen: dict[str, syntax.MarkLine] = {}
    for mark in marks:
        first = seen.setdefault(mark.number.text, mark)
        if first is not mark:
            ctx.report.add(
                "duplicate-name",
                mark.number.span,
                f"The picture has a mark {mark.number.text} already.",
                (first.number.span, "this one"),
                hint="Give each mark a number of its own.",
            )


def _clip(ctx: Context, line: syntax.ClipLine) -> model.Clip | None:
    path = _usable(ctx, line.path, ("clip",))
    caption = prose(ctx, line.caption) if line.caption is not None else None
    if not path:
        return None
    return model.Clip(line.span, path, line.start.seconds, line.end.seconds, caption)


def _usable(ctx: Context, text: syntax.Text, kinds: Sequence[str]) -> str:
    """Return the path of a file that is there and can be shown, '' (and a finding) otherwise."""
    path = beside(text.span.file, text.value)
    facts = ctx.pictures(path)
    what = "clip" if kinds == ("clip",) else "picture"
    if facts is None or facts.kind == "missing":
        near = _from_here(text.span.file, facts.near) if facts is not None and facts.near else ""
        ctx.report.unknown(
            text.span,
            text.value,
            [near] if near else [],
            f"There is no {what} {path}.",
            otherwise="Put it there: a path is relative to the file it stands in.",
            rule="picture-missing",
            sure=near,
            quoted=True,
        )
        return ""
    if facts.problem or facts.kind not in kinds:
        reason = facts.problem or f"it is no {what}"
        ctx.report.add(
            "picture-not-usable",
            text.span,
            f"{path} cannot be shown: {reason}.",
            hint=_what_to_save(what, facts),
        )
        return ""
    return path


def _what_to_save(what: str, facts: PictureFacts) -> str:
    """Return what to do about a file that cannot be shown."""
    if facts.kind == "other" and "outside" in facts.problem:
        return "Copy it into the folder, and name it by its path from this file."
    if what == "clip":
        return "Name a recording here, such as an MP4 or WebM file; a drawing is a `picture`."
    if facts.kind == "svg":
        return "Save it as a plain drawing that holds all it shows, or as PNG."
    return "Save it again as SVG, PNG or JPEG."


def _from_here(file: str, path: str) -> str:
    """Return the path as it would be written in a file, which it is relative to."""
    folder = file.rsplit("/", 1)[0] + "/" if "/" in file else ""
    return path.removeprefix(folder) if path.startswith(folder) else _up(folder, path)


def _up(folder: str, path: str) -> str:
    import posixpath

    return posixpath.relpath(path, folder or ".")


def merged(first: model.Extras, then: model.Extras) -> model.Extras:
    """Return both together; time and people of the first count."""
    return replace(
        first,
        safety=first.safety + then.safety,
        notes=first.notes + then.notes,
        whys=first.whys + then.whys,
        wear=tuple(dict.fromkeys(first.wear + then.wear)),
        pictures=first.pictures + then.pictures,
        clips=first.clips + then.clips,
        takes=first.takes or then.takes,
        people=first.people or then.people,
        handling=first.handling or then.handling,
    )
