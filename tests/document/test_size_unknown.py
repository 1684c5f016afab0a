"""A head whose size nobody knows is never given the size of another one."""

from __future__ import annotations

from document_support import compiled, steps

TEXT = """
## file: shop.proc
shop packhouse "Packhouse workshop"
  tools
    spanners spanners 10, 13, 16, 18 mm
## file: oil.proc
procedure oil "Change the oil"
  revision A 2026-01-01
  parts
    pump "pump"
  fluids
    pump-oil "pump oil"  1 L  in pump
  fasteners
    nut        M10 ISO 4032 8  holds pump  snug
    drain-plug plug G1/2  seals pump-oil  snug
  starts with nut slackened
  remove drain-plug
  drain pump-oil
  fit drain-plug
  tighten drain-plug
  fill pump-oil
  tighten nut
"""


def test_the_plug_does_not_get_the_spanner_of_the_nut() -> None:
    (document,) = compiled(TEXT).library().documents
    at_step = {step.id: step.tools for step in steps(document.body)}
    assert at_step["remove-drain-plug"] == ("spanner that fits",)
    rows = [row.text for row in document.tools]
    assert rows == ["16 mm spanner, and one that fits"]
