"""Values that no job records and a journal of another hand may hold."""

from __future__ import annotations

from hypothesis import strategies as st

__all__ = ["anything"]

anything = st.recursive(
    st.none() | st.booleans() | st.integers(-9, 99) | st.floats(-9, 9) | st.text(max_size=6),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.sampled_from(["contacts", "1", "number", "unit", "percent", "error", "within"]),
            inner | st.sampled_from(["open", "closed"]),
            max_size=3,
        )
    ),
    max_leaves=6,
)
