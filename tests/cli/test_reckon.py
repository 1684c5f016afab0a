"""Questions on the command line: what is answered, what is asked back, and in which form."""

from __future__ import annotations

import json
import math
import re
import shlex
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema
import pytest

from cli.cli_support import Ran, Run, put
from compiler.reckon.arguments import CONDITIONS, QUESTIONS
from compiler.trade.lifting import NOT_FOR

SHOP = """\
shop works "Works"
  units N·m, mm
  second units lbf·in, in
  lift limit 20 kg
  torques
    M8 8.8  22 N·m
"""

ANSWERED = (
    'torque "M8 10.9 oiled"',
    'torque "M8 10.9"',
    'torque "#10-24" --preload "1275 lbf" --k 0.20',
    'convert "88 in-lb"',
    'convert "8,5 Nm ±10 %"',
    'convert "8..10 bar"',
    "star 12",
    'star 7 --torque "60 N·m"',
    'adapter "60 N·m" --length "300 mm" --extends "40 mm" --angle 90',
    'fastener "M6×16 ISO 4762 8.8"',
    'fastener "1/2-13 × 2 ASME B18.2.1 grade 5"',
    "fastener 35 DIN 471",
    'stress "M8 8.8" --torque "25 N·m"',
    'stress "3/4-16 grade 5" --preload "25000 lbf"',
    'lift "14 kg" --out "40 cm" --height "75 cm" --travel "50 cm"',
    "lift --out 10in --height 22in --travel 37in --often 3 --hold poor --unstable",
    "estimate 3 10 20 min + 10 15 30 min",
)


def ask(run: Run, words: str) -> Ran:
    return run(*shlex.split(words))


def answer(run: Run, words: str) -> dict[str, Any]:
    """Return what `--format json` prints, held against the published schema."""
    ran = run(*shlex.split(words), "--format", "json")
    assert (ran.code, ran.err) == (0, "")
    found: dict[str, Any] = json.loads(ran.out)
    schema().validate(found)
    return found


def schema() -> jsonschema.Draft202012Validator:
    text = files("compiler.reckon").joinpath("answer.schema.json").read_text(encoding="utf-8")
    return jsonschema.Draft202012Validator(json.loads(text))


@pytest.mark.parametrize("words", ANSWERED)
def test_text_fits_a_terminal_and_says_the_same_as_json(
    run: Run, words: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    ran = ask(run, words)
    assert (ran.code, ran.err) == (0, "")
    lines = ran.out.splitlines()
    assert max(map(len, lines)) <= 80
    assert all(line == line.rstrip() for line in lines)
    assert not set(ran.out) & set("\N{NO-BREAK SPACE}\x1b")
    found = answer(run, words)
    assert lines[0] == found["understood"]
    flat = " ".join(ran.out.split())
    for result in found["results"]:
        assert " ".join(result["text"].split()) in flat
    for step in found["steps"]:
        assert step["text"].split(" = ")[0] in flat
    assert found["cautions"]
    assert "Mind" in lines


@pytest.mark.parametrize(
    ("words", "text", "value"),
    [
        ('convert "8,5 Nm" --to "ft lbs"', "6.27 lbf·ft", 6.269278),
        ("convert 80 ft lbs to Nm", "108 N·m", 108.465436),
        ('convert "80 ft/lbs in Nm"', "108 N·m", 108.465436),
        ('convert "80 foot-pounds" --to Nm', "108 N·m", 108.465436),
        ('convert "100 inch pounds" --to "newton metres"', "11.3 N·m", 11.298483),
        ('convert ".5 kg cm" --to "N m"', "0.0490 N·m", 0.04903325),
        ('convert "60psi" --to bar', "4.14 bar", 4.136854),
        ("convert -40 degF --to degC", "-40 °C", -40),
        ('convert "20 deg. Celsius" --to F', "68 °F", 68),
        ('convert "37.5 °C" --to degF', "99.5 °F", 99.5),
        ('convert "2 lbs" --to grams', "907 g", 907.18474),
        ("""convert '3"' --to mm""", "76.2 mm", 76.2),
        ('convert "0,250 in" --to mm', "6.35 mm", 6.35),
        ('convert "1 1/2 in" --to mm', "38.1 mm", 38.1),
        ('convert "1-1/2 in" --to mm', "38.1 mm", 38.1),
        ('convert "3/8 in" --to mm', "9.525 mm", 9.525),
        ('convert "25 kip" --to kN', "111 kN", 111.20554),
        ('convert "85 ksi" --to MPa', "586 MPa", 586.05437),
        ('convert "120 cmkg" --to Nm', "11.77 N·m", 11.76798),
        ('convert "6 bar" --to kPa', "600 kPa", 600),
    ],
)
def test_values_as_they_are_typed_in_a_hurry(run: Run, words: str, text: str, value: float) -> None:
    (result,) = answer(run, words)["results"]
    assert result["text"] == text
    assert result["value"] == pytest.approx(value, rel=1e-6)


def test_ends_are_rounded_to_the_inside(run: Run) -> None:
    found = answer(run, 'convert "8.5 N·m ±10 %" --to lbf·ft')
    assert found["limits"] == pytest.approx([7.65, 9.35])
    (result,) = found["results"]
    low, high = (float(part) for part in result["note"].removesuffix(" lbf·ft").split(" to "))
    assert 7.65 / 1.3558179483 <= low < high <= 9.35 / 1.3558179483
    (result,) = answer(run, 'convert "8..10 N·m" --to lbf·ft')["results"]
    assert result["text"] == "6.0 to 7.3 lbf·ft"
    one_sided = answer(run, 'convert "20 °C ±5 K" --to degF')
    assert one_sided["limits"] == [15, 25]
    assert one_sided["results"][0]["note"] == "59 to 77 °F"


@pytest.mark.parametrize(
    ("words", "reason", "hint"),
    [
        ("torque", "Say a thread with its class.", 'torque "M8 10.9 oiled"'),
        ('torque "M8 oiled"', "M8 alone does not say how strong the screw is", "Add its class"),
        ('torque "M8 8.8 oild"', "oild is no state of a thread.", "Did you mean oiled?"),
        ('torque "5/16 grade 8"', "5/16 does not say how fine the thread is.", "5/16-18"),
        ('torque "M8 8 oiled"', "8 is a class of nuts", 'torque "M8 8.8"'),
        ('torque "M8 A2-70"', "Stainless A2-70 has no proof load", "--preload"),
        ('torque "M8 8.8 galvanised"', "The table has no K for 'galvanised'.", "--k 0.15"),
        ('torque "G1/4 oiled"', "G1/4 is a pipe thread", "maker of the fitting"),
        ('torque "M8 8.8" --k 5', "5 is no sensible K", "--k 0.18"),
        ('torque "M8 8.8" --k much', "'much' is no number.", "--k 0.18"),
        ('torque "M8 8.8" --preload "20 N·m"', "A force is meant here", "20 kN"),
        ('torque "M8 8.8" --shop nowhere.proc', "There is no file nowhere.proc.", "--shop"),
        ("convert", "Say a value with its unit.", 'convert "88 in-lb"'),
        ("convert 12", "12 has no unit.", "88 in-lb"),
        ("convert foo", "'foo' cannot be read as a value.", "88 in-lb"),
        ('convert "1,200 N"', "1,200 can be read in two ways: 1.200 or 1200.", "decimal point"),
        ('convert "5 baar"', "baar is no unit that is known here.", "Did you mean bar?"),
        ('convert "5 bar" --to baar', "baar is no unit that is known here.", "Did you mean bar?"),
        ('convert "60 psi" --to Nm', "60 psi is a pressure, and N·m is a unit of torque.", "bar"),
        ('convert "20 N·m (25 lbf·ft)"', "25 lbf·ft is not 20 N·m.", "15 lbf·ft"),
        ('convert "9 N·m ±400 %"', "leaves nothing", "Look at the number"),
        ("star", "Say how many bolts.", "star 8"),
        ("star five", "'five' is no number of bolts.", "star 8"),
        ("star 2", "A circle of 2 bolts has no crosswise order", "by turns"),
        ("star 9999", "A circle of 9999 bolts has no crosswise order", "3 to 200"),
        ("star 8 --passes 100,30", "Passes rise from one to the next", "30,70,100"),
        ("star 8 --passes many", "'many' are no passes.", "30,70,100"),
        ('star 8 --torque "60 mm"', "A torque is meant here", "9 N·m"),
        ("fastener screw", "Of screw alone nothing is known here.", "M6×16 ISO 4762 8.8"),
        ("fastener sausage", "sausage is neither a thread nor a kind of fastener.", "M6×16"),
        ('stress "M8 8.8"', "Say either the torque or the preload.", "--torque"),
        ('stress "M8" --torque 9Nm', "M8 alone does not say how strong", "Add its class"),
        ('stress "M8 8.8" --torque "5..9 N·m"', "A torque is meant here, not a range.", "--torque"),
        ("lift 14 kg --out 40cm", "Say how high the hands are above the floor.", "--height"),
        ("lift 14 m --out 40cm", "A mass is meant here", "2.5 kg"),
        (
            "lift 14 kg --out 4cm --height 5cm --travel 6cm --hours 9",
            "The equation ends at 8 h",
            "--hours 8",
        ),
        (
            "lift 14 kg --out 4cm --height 5cm --travel 6cm --hold firm",
            "firm is no hold of the table.",
            "--hold good|fair|poor",
        ),
        ("estimate 3 10", "Three numbers are meant, and 2 are here.", "estimate 3 10 20"),
        ("estimate 3 20 10", "The likeliest time lies between", "estimate 3 10 20"),
        ("estimate 3 kg 4 5", "'3 kg 4 5' is not three times in one unit.", "3 10 20 min"),
        ('adapter "60 N·m"', "Say the length of the wrench", '--length "300 mm"'),
        ('adapter "60 N·m" --length 1m', "Say the length of the adapter", '--extends "40 mm"'),
        ('adapter "60 N·m" --length 300 --extends 4cm', "300 has no unit.", "300 mm"),
        (
            'adapter "60 N·m" --length 30cm --extends 40cm --angle 180',
            "the adapter reaches as far as the hand",
            "Look at the two lengths",
        ),
        (
            'adapter "60 N·m" --length 30cm --extends 4cm --angle 270',
            "270 is no sensible angle; it lies between 0 and 180.",
            "--angle 90",
        ),
    ],
)
def test_what_cannot_be_answered_is_asked_back(
    run: Run, words: str, reason: str, hint: str
) -> None:
    ran = ask(run, words)
    assert (ran.code, ran.out) == (2, "")
    said, _, tried = ran.err.partition("\nTry: ")
    assert reason in said
    assert hint in tried


def test_every_state_side_by_side_when_none_is_named(run: Run) -> None:
    found = answer(run, 'torque "M8 10.9"')
    values = {result["name"]: result["value"] for result in found["results"]}
    states = {name.split("/")[0] for name in values}
    assert states == {"black", "zinc-plated", "lubricated", "cadmium-plated", "anti-seize"}
    assert values["black/opened-again"] > 2 * values["anti-seize/opened-again"]
    for state in states:
        share = values[f"{state}/stays-closed"] / values[f"{state}/opened-again"]
        assert share == pytest.approx(0.90 / 0.75)
    assert "Shigley, Mechanical Engineering Design, Table 8-15" in str(found["steps"])
    assert any("was not said" in remark for remark in found["remarks"])


def test_a_dry_thread_may_be_plated_or_not(run: Run) -> None:
    """The factor of a thread that is not plated would be far too much on one that is."""
    found = answer(run, 'torque "M8 8.8 dry"')
    assert found["given"]["k"] == "0.2, 0.3"
    assert any("take the lower" in remark for remark in found["remarks"])
    for plated in ("zinc plated dry", "dry zinc-plated", "Zn"):
        assert answer(run, f'torque "M8 8.8 {plated}"')["given"]["state"] == "zinc-plated"


@pytest.mark.parametrize(
    "words",
    [
        "M8x1.25 10.9 oiled",
        "m8 10.9 lubed",
        "M8-1.25, 10.9, oiled",
        "oiled M8 class 10.9 thread",
        "10.9 M8 oiled",
    ],
)
def test_threads_as_they_are_typed(run: Run, words: str) -> None:
    found = answer(run, f'torque "{words}"')
    assert found["given"]["thread"] == "M8"
    assert found["given"]["class"] == "10.9"
    assert found["given"]["state"] == "lubricated"


def test_inch_threads_come_in_pounds_first(run: Run) -> None:
    for words in (
        "5/16-18 grade 8 zinc",
        "5/16 unc gr. 8 zinc plated",
        "GRADE 8 5/16-UNC zinc",
        "5/16-18 GR8 zinc",
    ):
        found = answer(run, f'torque "{words}"')
        assert found["given"]["class"] == "grade 8"
        assert [result["unit"] for result in found["results"]] == ["lbf·ft", "lbf·ft"]


def test_the_values_of_the_house(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "shop.proc", SHOP)
    for shop in ("shop.proc", str(tmp_path), str(tmp_path / "shop.proc")):
        found = answer(run, f'torque "M8 8.8 oiled" --shop {shop}')
        house = found["results"][0]
        assert (house["name"], house["text"], house["source"]) == ("house", "22 N·m", "shop.proc")
        assert found["results"][1]["others"][0]["unit"] == "lbf·in"
    assert "22 N·m" in ask(run, 'torque "M8 8.8" --shop shop.proc').out
    found = answer(run, 'torque "M10 8.8 oiled" --shop shop.proc')
    assert "shop.proc has no torque for M10, class 8.8." in found["remarks"]
    assert answer(run, 'convert "88 ft-lb" --shop shop.proc')["results"][0]["unit"] == "N·m"


def test_a_shop_file_that_cannot_be_used(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "broken.proc", SHOP.replace("22 N·m", "22 mm"))
    put(tmp_path, "other.proc", 'visit a "A"\n')
    put(tmp_path, "bytes.proc", b"\xff\xfe\x00")
    put(tmp_path, "notes.txt", "shop works\n")
    for name, reason in (
        ("broken.proc", "broken.proc has errors"),
        ("other.proc", "other.proc is no shop file."),
        ("bytes.proc", "bytes.proc cannot be read"),
        ("notes.txt", "notes.txt cannot be read"),
        (".", "There is no file shop.proc."),
        ("a\0b", "There is no file"),
    ):
        ran = run("torque", "M8 8.8", "--shop", name)
        assert (ran.code, ran.out) == (2, "")
        assert reason in ran.err


def test_the_drawing_has_every_bolt_once(run: Run) -> None:
    for count in range(3, 33):
        out = ask(run, f"star {count}").out
        drawn = out.partition("order")[0].split("\n", 1)[1].split()
        assert sorted(map(int, drawn)) == list(range(1, count + 1))
        order = answer(run, f"star {count}")["order"]
        assert sorted(order) == list(range(1, count + 1))
        said = out.partition("order")[2].partition("pass")[0].replace("-", " ").split()
        assert list(map(int, said)) == order


def test_passes(run: Run) -> None:
    found = answer(run, 'star 8 bolts --passes "25/50/75/100 %" --torque "80 ft lbs"')
    assert [result["value"] for result in found["results"]] == [25, 50, 75, 100, 100]
    assert [result["others"][0]["value"] for result in found["results"]] == [20, 40, 60, 80, 80]
    assert found["given"]["torque"] == "80 lbf·ft"


def test_a_fastener_by_its_designation(run: Run) -> None:
    found = answer(run, "fastener m10x1.25x40 din933 8.8")
    texts = {result["name"]: result["text"] for result in found["results"]}
    assert texts["pitch"] == "1.25 mm"
    assert texts["wrench-size"] == "17 mm across flats"
    assert any("16 mm across flats by ISO, 17 mm" in remark for remark in found["remarks"])
    found = answer(run, 'fastener "M6 ISO 4763"')
    assert any("Did you mean ISO 4762" in remark for remark in found["remarks"])
    assert any("No class, no strength" in remark for remark in found["remarks"])


def test_the_area_is_written_out_as_it_is_worked_out(run: Run) -> None:
    """The formula shown gives the value shown."""
    for thread in ("M8 8.8", "M20x1.5 10.9", "1/2-13 grade 5"):
        step = answer(run, f'fastener "{thread}"')["steps"][0]["text"]
        wide, depth, pitch, area = map(float, re.findall(r"\d+\.?\d*(?= mm| ×)", step))
        assert math.pi / 4 * (wide - depth * pitch) ** 2 == pytest.approx(area, rel=0.005)


def test_a_torque_that_is_too_much_is_said(run: Run) -> None:
    assert answer(run, 'stress "M8 8.8 oiled" --torque "25 N·m"')["remarks"] == []
    for torque, word in (("29 N·m", "near the proof load"), ("40 N·m", "more than the proof load")):
        found = answer(run, f'stress "M8 8.8 oiled" --torque "{torque}"')
        assert any(word in remark for remark in found["remarks"])
    found = answer(run, 'stress "M8 8.8" --torque "25 N·m"')
    assert any("With some of these states" in remark for remark in found["remarks"])


def test_the_limit_of_the_house_for_lifting(run: Run, tmp_path: Path) -> None:
    put(tmp_path, "shop.proc", SHOP)
    lift = "lift {} --out 30cm --height 75cm --travel 20cm --shop shop.proc"
    over, under = (answer(run, lift.format(load))["remarks"] for load in ("21 kg", "19 kg"))
    assert any("20 kg (shop.proc): this is over it" in remark for remark in over)
    assert any(remark.endswith("20 kg (shop.proc).") for remark in under)


def test_what_nobody_should_lift(run: Run) -> None:
    found = answer(run, "lift 5 kg --out 90cm --height 20cm --travel 30cm --one-handed")
    assert found["results"][0]["value"] == 0
    assert "index" not in {result["name"] for result in found["results"]}
    assert any("further out than 63 cm" in remark for remark in found["remarks"])
    assert any("lifted with one hand" in remark for remark in found["remarks"])


def test_the_names_of_conditions_are_those_of_the_trade() -> None:
    """They stand twice, so that `--help` need not load the tables."""
    assert list(CONDITIONS) == list(NOT_FOR)


def test_the_readme_shows_what_comes(run: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("COLUMNS", "80")
    readme = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
    shown = re.findall(r"```text\n\$ witnessmark ([^\n]*)\n(.*?)```", readme, re.DOTALL)
    assert shown
    for words, out in shown:
        assert ask(run, words).out == out
    section = readme.partition("## Questions at the bench")[2].partition("\n## ")[0]
    rows = re.findall(r"^\| `witnessmark (.*?)` \|", section, re.MULTILINE)
    assert {words.split()[0] for words in rows} == set(QUESTIONS)
    for words in rows:
        assert ask(run, words).code == 0


@pytest.mark.parametrize("words", ANSWERED)
def test_a_narrow_terminal(run: Run, words: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing is lost on it, and only words that are longer than it stand out."""
    monkeypatch.setenv("COLUMNS", "80")
    wide = ask(run, words).out.split()
    monkeypatch.setenv("COLUMNS", "44")
    narrow = ask(run, words).out
    assert sorted(narrow.split()) == sorted(wide)
    if not words.startswith("star"):
        assert max(map(len, narrow.splitlines())) <= 44


def test_help_says_what_there_is(run: Run) -> None:
    assert "how tight" in run("--help").out
    assert "--preload" in run("torque", "--help").out


def test_a_setting_has_three_digits(run: Run) -> None:
    """US Army TM 9-254, fig. 46: 60 N·m × 300 / (300 − 40) is 69.2 N·m (C), which 69 hides."""
    words = 'adapter "60 N·m" --length "300 mm" --extends "40 mm" --angle 180'
    (setting,) = answer(run, words)["results"]
    assert setting["text"] == "69.2 N·m"
    assert setting["value"] == pytest.approx(60 * 300 / 260)


@pytest.mark.parametrize(
    ("words", "understood"),
    [
        ('fastener "m10 hex bolt"', "M10 thread"),
        ('fastener "1/2 UNC bolt"', "1/2-13 thread"),
        ('fastener "G1/2 plug"', "G1/2 plug"),
        ('fastener "M12 nut 8"', "M12 nut, class 8"),
        ('fastener "M6x10 set screw 45H"', "M6 × 10 set screw, class 45H"),
        ('fastener "M10x40 bolt 8.8"', "M10 × 40 screw, class 8.8"),
        ('torque "M8 bolts 8.8 oiled"', "Torque for M8, class 8.8, oiled"),
        ("estimate 10-20-40 min", "10 20 40 min"),
    ],
)
def test_said_as_in_a_hurry(run: Run, words: str, understood: str) -> None:
    assert answer(run, words)["understood"] == understood


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("lift 25 --out 40cm --height 75cm --travel 50cm", "Try: 25 kg"),
        ("star 12 --torque 60", "Try: 60 N·m"),
        ("convert 99999999999999999999 Nm", "a longer number than anything here has"),
        ('torque "M8 8.8 goo"', "nor a state that the table has a K for"),
        ("estimate 10", "and 1 is here"),
        ("star 1", "A circle of 1 bolt has"),
    ],
)
def test_a_refusal_says_what_to_type(run: Run, words: str, said: str) -> None:
    ran = ask(run, words)
    assert ran.code == 2
    assert said in ran.err


def test_far_too_much_is_told_as_such(run: Run) -> None:
    """200 N·m on M8 8.8 pull 83 kN at K 0.30, and 29 kN tear it (ISO 898-1: 800 MPa; C)."""
    (remark,) = answer(run, 'stress "M8 8.8" --torque "200 N·m"')["remarks"]
    assert "tears or strips" in remark
    (near,) = answer(run, 'stress "M8 8.8 oiled" --torque "35 N·m"')["remarks"]
    assert "may stretch for good" in near


def test_doubt_about_the_thread_takes_the_lowest(run: Run) -> None:
    assert "in doubt take the lowest" in " ".join(answer(run, 'torque "M8 8.8"')["remarks"])


def test_an_adapter_longer_than_the_wrench_is_told(run: Run) -> None:
    found = answer(run, "adapter 60Nm --length 300mm --extends 900cm")
    assert "longer than the wrench" in found["remarks"][0]


def test_a_conversion_has_three_digits_also_where_the_last_is_a_nought(run: Run) -> None:
    """NIST SP 811, B.8: 10 kg are 22.046 lb."""
    (pounds,) = answer(run, "convert 10 kg --to lb")["results"]
    assert pounds["text"] == "22.0 lb"


def test_a_thread_in_soft_metal_is_judged_by_the_metal(run: Run) -> None:
    """0.875 × π × 8 × 10 = 219.9 mm², × 0.6 × 150 MPa = 19.8 kN (FED-STD-H28, M; C)."""
    words = 'stress "M8 8.8 oiled" --torque "30 N·m" --into aluminium --deep "10 mm"'
    found = answer(run, words)
    strips = {one["name"]: one["value"] for one in found["results"] if "strips" in one["name"]}
    assert strips["strips/weakest"] == pytest.approx(19_792, rel=0.001)
    assert strips["strips/strongest"] == pytest.approx(19_792 * 310 / 150, rel=0.001)
    said = " ".join(found["remarks"])
    assert "The weakest aluminium (150 MPa) strips at 19.8 kN, before the 20.8 kN" in said
    assert "1.2 D deep, less than the 2 D (16.0 mm)" in said
    assert (found["given"]["into"], found["given"]["deep"]) == ("aluminium", "10 mm")


@pytest.mark.parametrize(
    ("words", "reason"),
    [
        ("--into aluminium", "Say how deep its thread is too."),
        ("--deep 12mm", "Say what the screw goes into too."),
        ("--into cheese --deep 12mm", "cheese is no soft metal of the table."),
        ("--into brass --deep 12", "12 has no unit."),
    ],
)
def test_soft_metal_is_asked_back(run: Run, words: str, reason: str) -> None:
    ran = ask(run, f'stress "M8 8.8" --torque "20 N·m" {words}')
    assert ran.code == 2
    assert reason in ran.err
