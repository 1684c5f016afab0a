"""Signal words, hazards, protective equipment and kinds of energy.

Signal words and panel colours: ANSI Z535.4/.6 as read second-hand; text colours from memory, each
checked for contrast in the tests. ISO 7010 ids: each was checked against its drawing; where none
was checked the id is ''. Consequences are common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Signal:
    """A signal word; `rank` 0 is the most severe, `panel` and `text` are its colours."""

    word: str
    rank: int
    meaning: str
    panel: str
    text: str
    alert: bool


SIGNALS: Mapping[str, Signal] = {
    s.word: s
    for s in (
        Signal("danger", 0, "will cause death or serious injury", "#b3141b", "#ffffff", True),
        Signal("warning", 1, "could cause death or serious injury", "#ff8200", "#000000", True),
        Signal("caution", 2, "could cause minor or moderate injury", "#ffd100", "#000000", True),
        Signal("notice", 3, "damage to things, no personal injury", "#0b4f9e", "#ffffff", False),
    )
}


@dataclass(frozen=True, slots=True)
class Hazard:
    """A hazard by the author's word, with the usual consequence and an ISO 7010 id or ''."""

    word: str
    title: str
    consequence: str
    sign: str = ""


HAZARDS: Mapping[str, Hazard] = {
    h.word: h
    for h in (
        Hazard("cut", "Sharp edges", "It can cut hands and arms."),
        Hazard("crush", "Crushing", "It can crush hands or feet.", "W024"),
        Hazard("entangle", "Entanglement", "It can pull in hands, hair or clothing.", "W025"),
        Hazard("shock", "Electric shock", "It can kill.", "W012"),
        Hazard("burn", "Hot surface", "It can burn skin.", "W017"),
        Hazard("scald", "Hot liquid or steam", "It can scald skin."),
        Hazard("pressure", "Pressure", "It can burst out and injure eyes and skin."),
        Hazard("fall", "Fall", "A fall can cause serious injury."),
        Hazard("slip", "Slippery floor", "A slip can cause injury."),
        Hazard("eye", "Eye injury", "It can injure eyes."),
        Hazard("flying-parts", "Flying parts", "It can fly off and injure eyes and face."),
        Hazard("chemical", "Harmful substance", "It can harm skin, eyes and lungs."),
        Hazard("noise", "Noise", "It can damage hearing."),
        Hazard("lift", "Heavy load", "Lifting it alone can injure the back."),
        Hazard("spring", "Spring under load", "It can fly out and injure eyes and hands."),
        Hazard("dust", "Dust", "Breathing it in can harm the lungs."),
        Hazard("fire", "Fire", "It can catch fire and burn people."),
        Hazard("start-up", "Automatic start-up", "The machine can start without warning.", "W018"),
        Hazard("trip", "Trip hazard", "A fall can cause injury."),
        Hazard("falling-load", "Falling load", "It can fall and crush people below it."),
    )
}


@dataclass(frozen=True, slots=True)
class Protection:
    """Protective equipment by the author's word, with its ISO 7010 id ('' unchecked)."""

    word: str
    label: str
    sign: str = ""


PROTECTION: Mapping[str, Protection] = {
    p.word: p
    for p in (
        Protection("gloves", "gloves", "M009"),
        Protection("cut-resistant-gloves", "cut-resistant gloves", "M009"),
        Protection("chemical-gloves", "chemical-resistant gloves", "M009"),
        Protection("heat-proof-gloves", "heat-proof gloves", "M009"),
        Protection("insulating-gloves", "insulating gloves", "M009"),
        Protection("eye-protection", "eye protection", "M004"),
        Protection("face-shield", "face shield"),
        Protection("ear-protection", "ear protection", "M003"),
        Protection("safety-shoes", "safety shoes", "M008"),
        Protection("hard-hat", "hard hat", "M014"),
        Protection("dust-mask", "dust mask"),
        Protection("respirator", "respirator"),
        Protection("apron", "apron"),
        Protection("harness", "fall-arrest harness"),
        Protection("hair-net", "hair net"),
        Protection("coverall", "coverall"),
        Protection("high-visibility-vest", "high-visibility vest"),
    )
}


@dataclass(frozen=True, slots=True)
class EnergyKind:
    """A kind of energy: in words, and whether something stays stored after it is isolated."""

    word: str
    label: str
    stored: bool
    sign: str = ""


ENERGIES: Mapping[str, EnergyKind] = {
    e.word: e
    for e in (
        EnergyKind("electrical", "electrical", False, "W012"),
        EnergyKind("stored-charge", "stored electrical charge", True, "W012"),
        EnergyKind("pressure", "pressure", True),
        EnergyKind("hydraulic", "hydraulic pressure", True),
        EnergyKind("pneumatic", "compressed air", True),
        EnergyKind("steam", "steam", True, "W017"),
        EnergyKind("spring", "spring force", True),
        EnergyKind("gravity", "raised load", True),
        EnergyKind("heat", "heat", True, "W017"),
        EnergyKind("chemical", "chemical", True),
        EnergyKind("motion", "motion", True, "W025"),
        EnergyKind("external-supply", "external supply", False, "W012"),
    )
}
