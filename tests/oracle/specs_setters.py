"""Random cells in which setters stay for their prove-outs, as `specs` draws those without."""

from __future__ import annotations

from hypothesis import strategies as st

from .specs import Spec


@st.composite
def with_setters_staying(draw: st.DrawFn, drawn: st.SearchStrategy[Spec]) -> Spec:
    """The cells drawn, with prove-outs of most parts, small orders and one or two people."""
    spec = dict(draw(drawn))
    spec["handling"] = {**spec.get("handling", {}), "setter_stays": True}
    spec["part"] = {name: draw(proved(entry)) for name, entry in spec["part"].items()}
    spec["machine"] = {name: draw(changing(entry)) for name, entry in spec["machine"].items()}
    return spec


@st.composite
def proved(draw: st.DrawFn, entry: Spec) -> Spec:
    """A part that is mostly proved; with small orders of several numbers it is so often."""
    return {
        **entry,
        "prove_out": draw(st.sampled_from((0, 97, 300, 1800, 1800))),
        "batch": draw(st.sampled_from((1, 2, 3, 7))),
        "numbers": draw(st.sampled_from((1, 2, 2, 3))),
    }


@st.composite
def changing(draw: st.DrawFn, entry: Spec) -> Spec:
    """One to three machines of the kind, whose pallets, if any, are changed in no time or long."""
    found = {**entry, "count": draw(st.sampled_from((1, 1, 2, 3)))}
    if "pallets" in found:
        found["pallets"] = draw(st.sampled_from((1, 2, 2, 3)))
        found["pallet_change"] = draw(st.sampled_from((0, 30, 97, 600)))
    return found
