"""Several ways from one base: whatever is forked, exchanged, moved and removed, every way stays whole."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from groundbeat.codec.groove_read import read_groove
from groundbeat.codec.groove_write import write_groove
from groundbeat.codec.link import read_link, write_link
from groundbeat.errors import VariationError
from groundbeat.model.groove import MAX_BRANCHES, MAX_VARIATIONS, Branch, Groove, Variation
from groundbeat.variation import stack, ways
from tests.strategies import grooves

BY = ["1/16 later", "1/16 earlier", "1/8 later", "1/4 later", "1/8 earlier", "3/16 later", "1/32 later", "1/4 earlier"]


def made(*, count: int = 4, **more) -> Groove:
    """A groove of so many variations that all differ: A is key 1, B 2, and so on."""
    groove = Groove()
    for by in BY[:count]:
        groove = stack.add(groove, "displace", {"by": by})
    return replace(groove, **more)


def told(row) -> list[tuple]:
    """What variations do, whatever their numbers and names."""
    return [(variation.kind, variation.settings, variation.on, variation.note) for variation in row]


def keys(row) -> list[int]:
    return [variation.key for variation in row]


def every_way(groove: Groove) -> list[list[tuple]]:
    """What each way does from the base on, the main way first."""
    return [told(groove.variations), *(told(ways.way(groove, i)) for i in range(len(groove.branches)))]


def shape(groove: Groove) -> tuple:
    """A document but for names, the order of branches, and the numbers of what only branches hold."""
    branches = sorted((branch.after, repr(told(branch.variations))) for branch in groove.branches)
    return keys(groove.variations), told(groove.variations), branches


def all_keys(groove: Groove) -> list[int]:
    return keys(groove.variations) + [key for branch in groove.branches for key in keys(branch.variations)]


# ---- single steps


def test_another_way_keeps_what_came_after():
    groove = made()
    forked = ways.fork(groove, 2)
    assert keys(forked.variations) == [1, 2]
    assert forked.branches == (Branch("Way 1", 2, groove.variations[2:]),)
    assert forked.next_key == groove.next_key
    assert ways.way(forked, 0) == groove.variations


def test_another_way_from_the_base_beat_keeps_everything():
    forked = ways.fork(made(), 0)
    assert forked.variations == ()
    assert keys(ways.way(forked, 0)) == [1, 2, 3, 4]


def test_where_nothing_comes_after_there_is_no_way_to_keep():
    for groove, after in ((made(), 4), (Groove(), 0)):
        with pytest.raises(VariationError, match="nothing comes after this stage yet"):
            ways.fork(groove, after)


def test_a_way_taken_at_once_is_the_document_before():
    groove = made()
    assert ways.exchange(ways.fork(groove, 2), 0) == groove


def test_exchanging_twice_is_the_document_before():
    forked = stack.add(ways.fork(made(), 2), "embellish", {"dynamic": "ghost"})
    there = ways.exchange(forked, 0)
    assert keys(there.variations) == [1, 2, 3, 4]
    assert there.branches == (Branch("Way 2", 2, forked.variations[2:]),)
    assert ways.exchange(there, 0) == forked


def test_ways_by_number_keep_their_numbers_through_exchanges():
    groove = made(count=2)
    for _ in range(3):
        groove = stack.add(ways.fork(groove, 1), "embellish", {})
    ways_now = [branch.name for branch in groove.branches]
    assert ways_now == ["Way 1", "Way 2", "Way 3"]  # the main way is the fourth
    groove = ways.exchange(groove, 0)
    assert [branch.name for branch in groove.branches] == ["Way 4", "Way 2", "Way 3"]
    groove = ways.exchange(groove, 1)
    assert [branch.name for branch in groove.branches] == ["Way 4", "Way 1", "Way 3"]


def test_a_name_given_by_hand_is_not_lost_on_the_main_way():
    forked = stack.add(ways.fork(made(), 2), "embellish", {})
    named = ways.call(forked, 0, " With the  ride ")
    assert named.branches[0].name == "With the  ride"
    there = ways.exchange(named, 0)
    assert there.variations[2].name == "With the  ride"
    back = ways.exchange(there, 0)
    assert back.branches[0].name == "With the  ride"
    renamed = ways.exchange(ways.call(back, 0, "On the bell"), 0)
    assert renamed.variations[2].name == "On the bell"
    nameless = ways.call(back, 0, "")
    assert (nameless.branches[0].name, nameless.branches[0].variations[0].name) == ("Way 1", "")


def test_a_stage_that_has_its_own_name_keeps_it():
    groove = made()
    named = replace(
        groove, variations=(*groove.variations[:2], replace(groove.variations[2], name="C"), *groove.variations[3:])
    )
    forked = ways.fork(named, 2)
    assert forked.branches[0].name == "C"
    assert ways.exchange(ways.call(forked, 0, "Other"), 0).variations[2].name == "Other"
    stays = ways.exchange(replace(forked, branches=(replace(forked.branches[0], name="Other"),)), 0)
    assert stays.variations[2].name == "C"


def nested() -> Groove:
    """A B C D is the main way; one way leaves after B (E F), one after C (G)."""
    groove = made(count=4)
    words = ((5, "normal"), (6, "soft"), (7, "accent"))
    e, f, g = (stack.make(key, "embellish", {"dynamic": word}) for key, word in words)
    return replace(groove, branches=(Branch("Way 1", 2, (e, f)), Branch("Way 2", 3, (g,))), next_key=8)


def test_a_way_whose_fork_is_swapped_out_takes_along_what_it_shared():
    before = nested()
    after = ways.exchange(before, 0)
    assert keys(after.variations) == [1, 2, 5, 6]
    assert [(b.after, keys(b.variations)) for b in after.branches] == [(2, [3, 4]), (2, [8, 7])]
    assert told(ways.way(after, 1)) == told(ways.way(before, 1))
    back = ways.exchange(after, 0)
    assert replace(back, next_key=8, branches=()) == replace(before, branches=())
    assert [(b.after, keys(b.variations)) for b in back.branches] == [(2, [5, 6]), (3, [7])]
    assert back.next_key == 9  # the number of the copy is never used again


def test_what_a_way_shared_is_its_own_once_the_original_has_changed():
    after = ways.exchange(ways.exchange(nested(), 0), 1)  # now A B C' G
    assert keys(after.variations) == [1, 2, 8, 7]
    other = stack.edit(after, 8, {"by": "1/2 later"})
    back = ways.exchange(other, 0)
    assert keys(back.variations) == [1, 2, 3, 4]
    assert [(b.after, keys(b.variations)) for b in back.branches if 7 in keys(b.variations)] == [(2, [8, 7])]


def test_two_ways_that_begin_alike_by_chance_stay_apart():
    forked = ways.fork(made(), 2)
    same = dict(forked.branches[0].variations[0].settings)
    alike = stack.add(forked, "displace", same)  # the very variation that the kept way begins with
    kept, says = ways.follow(forked, alike)
    assert (kept, says) == (alike, ())
    assert ways.exchange(ways.exchange(alike, 0), 0) == alike


# ---- what becomes of ways when the main way is edited


def after_edit(groove: Groove, new: Groove) -> tuple[Groove, tuple[str, ...]]:
    return ways.follow(groove, new)


def test_a_way_leaves_from_the_stage_before_when_its_stage_is_removed():
    groove = nested()
    new, says = after_edit(groove, stack.remove(groove, 3))
    assert [(b.after, keys(b.variations)) for b in new.branches] == [(2, [5, 6]), (2, [7])]
    assert says == ("“Way 2” leaves from stage 2 now",)
    for key in (2, 1):
        groove, (new, says) = new, after_edit(new, stack.remove(new, key))
    assert [b.after for b in new.branches] == [0, 0]
    assert says == ("“Way 1” leaves from the base beat now", "“Way 2” leaves from the base beat now")


def test_a_stage_moved_past_the_fork_stays_in_the_way_too():
    groove = nested()
    new, says = after_edit(groove, stack.move(groove, 3, 4))  # A B D C
    assert told(ways.way(new, 1)) == told(ways.way(groove, 1))
    assert [(b.after, keys(b.variations)) for b in new.branches] == [(2, [5, 6]), (2, [8, 7])]
    assert says == ("“Way 2” leaves from stage 2 now and has 1 variation of the shared ones for itself",)
    back, says = after_edit(new, stack.move(new, 3, 3))
    assert [(b.after, keys(b.variations)) for b in back.branches] == [(2, [5, 6]), (3, [7])]


def test_a_stage_moved_in_before_the_fork_is_not_put_into_the_way():
    groove = nested()
    new, _ = after_edit(groove, stack.move(groove, 4, 1))  # D A B C
    assert [told(ways.way(new, i)) for i in (0, 1)] == [told(ways.way(groove, i)) for i in (0, 1)]


def test_another_order_of_what_is_shared_is_shared():
    groove = nested()
    new, says = after_edit(groove, stack.move(groove, 1, 2))  # B A C D
    assert [(b.after, keys(b.variations)) for b in new.branches] == [(1, [5, 6]), (3, [7])]
    assert (keys(ways.way(new, 1)), says) == ([2, 1, 3, 7], ())


def test_a_variation_added_where_ways_share_is_shared_and_after_the_fork_is_not():
    groove = nested()
    new, _ = after_edit(groove, stack.add(groove, "embellish", {}, after=1))
    assert [keys(ways.way(new, i)) for i in (0, 1)] == [[1, 8, 2, 5, 6], [1, 8, 2, 3, 7]]
    new, _ = after_edit(groove, stack.add(groove, "embellish", {}, after=2))
    assert [keys(ways.way(new, i)) for i in (0, 1)] == [[1, 2, 5, 6], [1, 2, 8, 3, 7]]


# ---- limits


def test_a_seventeenth_way_is_refused_with_what_to_do():
    groove = made(count=1, branches=tuple(Branch(f"Way {i + 1}", 0, ()) for i in range(MAX_BRANCHES)))
    with pytest.raises(VariationError, match=r"at most 16 other ways; delete one of them first"):
        ways.fork(groove, 0)
    assert len(ways.fork(ways.part(groove, 3), 0).branches) == MAX_BRANCHES
    assert len(ways.exchange(groove, 0).branches) == MAX_BRANCHES


def long(first: int, count: int) -> tuple[Variation, ...]:
    return tuple(Variation(first + i, "displace", (("by", "1/8 later"),)) for i in range(count))


def test_a_way_that_is_too_long_to_be_shown_is_refused():
    groove = Groove(variations=long(1, 40), branches=(Branch("Long", 40, long(41, 30)),), next_key=71)
    with pytest.raises(VariationError, match=r"this way has 70 variations, and at most 64"):
        ways.exchange(groove, 0)
    two = replace(groove, branches=(*groove.branches, Branch("Short", 0, long(71, 1))), next_key=72)
    with pytest.raises(VariationError, match=r"“Long” would have 70 variations of its own"):
        ways.exchange(two, 1)
    assert MAX_VARIATIONS == 64


def test_numbers_that_have_run_out_are_said_before_a_file_cannot_be_read():
    full = replace(nested(), next_key=ways.MOST_KEYS)
    with pytest.raises(VariationError, match="numbers have run out"):
        ways.exchange(full, 0)
    last = ways.exchange(replace(full, next_key=ways.MOST_KEYS - 1), 0)
    assert read_groove(write_groove(last)) == last


@pytest.mark.parametrize("index", [-1, 2, 99])
def test_a_way_that_is_not_there_is_refused_by_its_number(index: int):
    for deed in (ways.exchange, ways.part, ways.way, lambda g, i: ways.call(g, i, "A")):
        with pytest.raises(VariationError, match=f"there are 2 other ways; number {index} is not one"):
            deed(nested(), index)


# ---- laws over any row of steps

STEPS = ["fork", "try", "try", "try", "exchange", "exchange", "part", "remove", "move", "move", "add", "call", "off"]
FRESH = ("fork", "try", "add", "part", "call", "off")
steps = st.lists(st.tuples(st.sampled_from(STEPS), st.integers(0, 7), st.integers(0, 7)), min_size=2, max_size=14)


def other(groove: Groove) -> str:
    """An amount that no other variation of a groove has: variations that are alike by chance may come to be shared."""
    return f"{groove.next_key}/32 later"


def apart(groove: Groove) -> Groove:
    """The groove with variations that all differ."""
    return replace(groove, variations=tuple(replace(v, note=f"{v.note} {v.key}") for v in groove.variations))


def do(groove: Groove, step: tuple[str, int, int]) -> tuple[Groove, list[list[tuple]]]:
    """Do a step where it can be done; give the new groove and what the ways ought to do from then on."""
    name, one, two = step
    row, others = groove.variations, len(groove.branches)
    before = every_way(groove)
    if name == "fork" and row:
        at = one % len(row)
        new = ways.fork(groove, row[at - 1].key if at else 0)
        return new, [told(row[:at]), *before[1:], before[0]]
    if name == "try" and row:  # another way from a stage, with something in it
        at = one % len(row)
        new = stack.add(ways.fork(groove, row[at - 1].key if at else 0), "displace", {"by": other(groove)})
        return new, [told(new.variations), *before[1:], before[0]]
    if name == "exchange" and others:
        index = one % others
        new = ways.exchange(groove, index)
        replaced = [before[0]] if len(new.branches) == others else []
        return new, [before[index + 1], *before[1 : index + 1], *replaced, *before[index + 2 :]]
    if name == "part" and others:
        index = one % others
        return ways.part(groove, index), before[: index + 1] + before[index + 2 :]
    if name == "call" and others:
        return ways.call(groove, one % others, ["", "Another", "Way 9"][two % 3]), before
    if name == "add" and len(row) < 8:
        after = 0 if not row else [0, *keys(row)][one % (len(row) + 1)]
        new, _ = ways.follow(groove, stack.add(groove, "displace", {"by": other(groove)}, after=after))
        return new, []
    if not row or name not in ("remove", "move", "off"):
        return groove, before
    key = row[one % len(row)].key
    if name == "off":
        new, _ = ways.follow(groove, stack.switch(groove, key, two % 2 == 0))
        return new, []
    if name == "remove":
        return ways.follow(groove, stack.remove(groove, key))[0], []
    moved = stack.move(groove, key, two % len(row) + 1)
    new, _ = ways.follow(groove, moved)
    same_for_all = [sorted(before[0]), *(sorted(way) for way in before[1:])]
    assert [sorted(way) for way in every_way(new)] == same_for_all, "a move takes nothing out of any way"
    return new, []


def check(groove: Groove) -> None:
    every = all_keys(groove)
    assert len(every) == len(set(every)), "every variation has a number of its own"
    assert max([0, *every]) < groove.next_key
    assert read_groove(write_groove(groove)) == groove
    assert read_link(write_link(groove)).groove.variations == groove.variations
    for index in range(len(groove.branches)):
        grown = stack.grow(replace(groove, variations=ways.way(groove, index), branches=()))
        assert len(grown) == len(ways.way(groove, index)) + 1


@given(grooves(max_bars=1).map(apart), steps)
def test_no_way_loses_anything_in_any_row_of_steps(groove: Groove, row):
    for step in row:
        new, expected = do(groove, step)
        if expected:
            assert every_way(new) == expected
        assert new.next_key >= groove.next_key, "numbers are never used again"
        assert set(all_keys(new)) - set(all_keys(groove)) <= set(range(groove.next_key, new.next_key))
        if step[0] == "remove" and new is not groove:
            gone = set(all_keys(groove)) - set(all_keys(new))
            assert len(gone) <= 1 + len(gone & {k for b in groove.branches for k in keys(b.variations)})
        groove = new
        check(groove)


def is_beginning(one: list[tuple], other: list[tuple]) -> bool:
    return other[: len(one)] == one or one[: len(other)] == other


@given(grooves(max_bars=1).map(apart), steps, st.integers(0, 15))
def test_exchanging_twice_gives_the_same_ways_in_any_state(groove: Groove, row, index: int):
    for step in row:
        groove, _ = do(groove, step)
    if not groove.branches:
        return
    index %= len(groove.branches)
    before, there = every_way(groove), ways.exchange(groove, index)
    assert every_way(there)[0] == before[index + 1]
    if not is_beginning(before[0], before[index + 1]):  # what is the beginning of another needs no branch
        assert every_way(ways.exchange(there, index)) == before


@given(
    grooves(max_bars=1).map(apart),
    steps.map(lambda row: [step for step in row if step[0] in FRESH]),
    st.integers(0, 15),
)
def test_exchanging_twice_gives_the_same_document_while_the_main_way_holds_no_copies(groove: Groove, row, index: int):
    for step in row:
        groove, _ = do(groove, step)
    if not groove.branches:
        return
    index %= len(groove.branches)
    if not is_beginning(every_way(groove)[0], every_way(groove)[index + 1]):
        assert shape(ways.exchange(ways.exchange(groove, index), index)) == shape(groove)
