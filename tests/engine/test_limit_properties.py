"""bound() over any wish, any limits and any loads."""

from decimal import Decimal

import msgspec
from hypothesis import given
from hypothesis import strategies as st

from steelyard.engine.equipment import Loadable
from steelyard.engine.limits import EquivalentCode, EquivalentLimit, Limits, Wish, bound
from steelyard.engine.yardstick import SLACK

from .limit_builders import EPLEY, codes, limit, overrule, step

# Properties over any wish, limits and loads.

ceilings_any = st.integers(0, 30).map(lambda n: Decimal(n) / 100)
references = st.floats(20, 400)
loadables = st.lists(st.integers(1, 200), min_size=1, max_size=30, unique=True).map(
    lambda found: Loadable(tuple(sorted(Decimal(n) * Decimal("1.25") for n in found)))
)
wishes = st.builds(Wish, total=st.integers(1, 300).map(Decimal), count=st.integers(1, 30), rir=st.integers(0, 4))


@st.composite
def any_limits(draw: st.DrawFn) -> Limits:
    """Any mixture of limits, missing ones and overrulings."""

    def one(code: EquivalentCode) -> EquivalentLimit | None:
        missing = draw(st.integers(0, 4)) == 0
        return None if missing else limit(code, draw(references), str(draw(ceilings_any)))

    last = draw(st.integers(4, 200)) * Decimal("1.25")
    following = draw(st.none() | st.integers(1, 16).map(lambda n: last + n * Decimal("1.25")))
    overruled = draw(
        st.lists(
            st.builds(
                overrule,
                st.sampled_from(("weekly-limit", "twelve-week-limit", "step-limit")),
                st.none() | ceilings_any.map(str),
            ),
            max_size=2,
        )
    )
    return Limits(
        weekly=one("weekly-limit"),
        twelve_weeks=one("twelve-week-limit"),
        regain=one("regain-limit"),
        is_returning=draw(st.booleans()),
        step=step(str(last), None if following is None else str(following), jump=draw(st.none() | st.booleans())),
        overruled=tuple(overruled),
        latest_equivalent=draw(references),
        latest_total=last,
    )


def equivalent(found: Wish) -> float:
    return EPLEY.equivalent_at(found.total, found.count, found.rir) or 0.0


def heights(limits: Limits) -> list[float]:
    """The height of each limit of the equivalent that is in force, reckoned here anew."""
    out = []
    for code, present in (("weekly-limit", limits.weekly), ("twelve-week-limit", limits.twelve_weeks)):
        said = [o for o in limits.overruled if o.limit == (code if present else "weekly-limit")][-1:]
        base, share = (present.reference, present.ceiling) if present else (limits.latest_equivalent or 0, Decimal(0))
        if not said:
            out.append(base * (1 + float(share)))
        elif said[0].ceiling is not None:
            out.append(base * (1 + float(said[0].ceiling)))
    if limits.is_returning and limits.regain:
        out.append(limits.regain.allowed)
    return out


@given(wishes, any_limits(), loadables, st.integers(1, 12))
def test_never_above_any_limit_in_force(wanted: Wish, limits: Limits, loadable: Loadable, floor: int) -> None:
    bounded = bound(wanted, limits, EPLEY, loadable, floor)
    assert bounded.allowed.total in loadable.magnitudes
    assert bounded.allowed.rir == wanted.rir
    assert 1 <= bounded.allowed.count <= wanted.count
    if "no-load-under-limit" in codes(bounded):
        assert bounded.allowed.total == loadable.magnitudes[0]
        return
    assert bounded.allowed.total <= wanted.total
    assert all(equivalent(bounded.allowed) <= height * (1 + 2 * SLACK) for height in heights(limits))
    said = [o for o in limits.overruled if o.limit == "step-limit"][-1:]
    assert limits.step is not None
    if not said:
        assert bounded.allowed.total <= limits.step.allowed()
    elif said[0].ceiling is not None:
        assert bounded.allowed.total <= limits.step.allowed(said[0].ceiling)


@given(wishes, any_limits(), loadables, st.integers(1, 12))
def test_bounding_what_was_allowed_changes_nothing(
    wanted: Wish, limits: Limits, loadable: Loadable, floor: int
) -> None:
    allowed = bound(wanted, limits, EPLEY, loadable, floor).allowed
    assert bound(allowed, limits, EPLEY, loadable, floor).allowed == allowed


@given(wishes, any_limits(), loadables, st.integers(1, 12), st.sampled_from(("weekly", "twelve_weeks", "regain")))
def test_a_higher_ceiling_never_gives_a_lighter_load(
    wanted: Wish, limits: Limits, loadable: Loadable, floor: int, name: str
) -> None:
    narrow = getattr(limits, name)
    if narrow is None:
        return
    higher = msgspec.structs.replace(narrow, ceiling=narrow.ceiling + Decimal("0.05"))
    before = bound(wanted, limits, EPLEY, loadable, floor).allowed
    after = bound(wanted, msgspec.structs.replace(limits, **{name: higher}), EPLEY, loadable, floor).allowed
    assert (after.total, after.count) >= (before.total, before.count)


@given(wishes, any_limits(), loadables, st.integers(1, 12))
def test_every_limit_that_the_wish_is_above_is_named(
    wanted: Wish, limits: Limits, loadable: Loadable, floor: int
) -> None:
    named = codes(bound(wanted, limits, EPLEY, loadable, floor))
    is_above = [equivalent(wanted) > height * (1 + 2 * SLACK) for height in heights(limits)]
    assert sum(code in {"weekly-limit", "twelve-week-limit", "regain-limit"} for code in named) >= sum(is_above)
    assert any(is_above) <= bool(named)
