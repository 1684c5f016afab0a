"""What hangs on things and steps, ready to be shown: safety, equipment, pictures, clips."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from compiler.document.model import ClipView, PictureMark, PictureView, SafetyPanel, WearView
from compiler.model import Clip, Mark, Picture, Prose, Safety, Selection
from compiler.trade.safety import HAZARDS, PROTECTION, SIGNALS
from compiler.walk.nodes import Target
from compiler.wording.english import spoken
from compiler.wording.nouns import noun
from compiler.wording.operands import prose
from compiler.wording.text import Line, line, sentence, words_only
from compiler.wording.voice import Voice


def panels(voice: Voice, given: Iterable[Safety]) -> tuple[SafetyPanel, ...]:
    """Return safety messages, the most severe first, each once."""
    made = list(dict.fromkeys(_panel(voice, message) for message in given))
    made.sort(key=lambda panel: SIGNALS[panel.signal].rank)
    return tuple(made)


def _panel(voice: Voice, message: Safety) -> SafetyPanel:
    hazard = HAZARDS.get(message.hazard)
    usual = sentence(hazard.consequence) if hazard is not None else ()
    said = message.consequence
    return SafetyPanel(
        signal=message.signal,
        hazard=hazard.title if hazard is not None else "",
        sign=hazard.sign if hazard is not None else "",
        text=text_line(voice, message.text),
        consequence=text_line(voice, said) if said is not None else usual,
        avoid=text_line(voice, message.avoid) if message.avoid is not None else (),
    )


def text_line(voice: Voice, text: Prose) -> Line:
    """Return an author's remark as a sentence."""
    return sentence(prose(voice, text))


def text_lines(voice: Voice, texts: Sequence[Prose]) -> tuple[Line, ...]:
    """Return several remarks."""
    return tuple(text_line(voice, text) for text in texts)


def wear_views(words: Iterable[str]) -> tuple[WearView, ...]:
    """Return protective equipment, each once, in the order it was named."""
    made: list[WearView] = []
    for word in dict.fromkeys(words):
        known = PROTECTION.get(word)
        label = known.label if known is not None else spoken(word)
        made.append(WearView(word, label, known.sign if known is not None else ""))
    return tuple(made)


def wear_texts(words: Iterable[str]) -> tuple[str, ...]:
    """Return protective equipment in words."""
    return tuple(view.text for view in wear_views(words))


def picture_views(voice: Voice, given: Sequence[Picture]) -> tuple[PictureView, ...]:
    """Return pictures with their marks in words, and a description made of both."""
    return tuple(_picture(voice, picture) for picture in given)


def _picture(voice: Voice, picture: Picture) -> PictureView:
    caption = prose(voice, picture.caption) if picture.caption is not None else ()
    marks = tuple(
        PictureMark(mark.number, _mark_text(voice, mark), mark.x, mark.y) for mark in picture.marks
    )
    alt = _closed(words_only(caption)) or "Picture."
    if marks:
        alt += " " + " ".join(f"{mark.number}: {_closed(mark.text)}" for mark in marks)
    return PictureView(picture.path, caption, alt, marks)


def _closed(text: str) -> str:
    return text if not text or text.endswith((".", "?", "!")) else f"{text}."


def _mark_text(voice: Voice, mark: Mark) -> str:
    if isinstance(mark.target, Selection):
        members = tuple(m for m in mark.target.members if isinstance(m, str))
        words = words_only(noun(voice, Target(mark.target.key, members), article="none").words)
        return words.removeprefix("the ")
    return words_only(prose(voice, mark.target))


def clip_views(voice: Voice, given: Sequence[Clip]) -> tuple[ClipView, ...]:
    """Return pieces of recordings."""
    return tuple(
        ClipView(
            clip.path,
            clip.start,
            clip.end,
            line(prose(voice, clip.caption)) if clip.caption is not None else (),
        )
        for clip in given
    )
