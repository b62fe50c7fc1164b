"""On a student's kit, too, the page unfolds a folded view into the very view that the engine tells whole."""

from __future__ import annotations

from random import Random

from tests.wire.corpus import documents
from tests.wire.test_unfolding import ask, edit_of, same, unfold

KITS = ("pad", "kick, snare, hi-hat", "kick, snare, high tom, floor tom, ride", "crash")


def test_a_row_of_edits_on_a_kit_unfolds_step_by_step():
    dice = Random(21)
    rows, whole = [], []
    for number, text in enumerate(documents(16)):
        kit = KITS[number % len(KITS)]
        replies = [{"reply": ask(ask="open", text=text, have="", kit=kit)}]
        views = [ask(ask="open", text=text, kit=kit)]
        for _ in range(10):
            question = edit_of(views[-1], dice) | {"kit": kit}
            reply = ask(**question, have="=")
            if "refused" in reply:
                assert ask(**question, first=True)["refused"] == reply["refused"]
                continue
            replies.append({"reply": reply, "glimpse": ask(**question, first=True)})
            views.append(ask(**question))
        rows.append(replies)
        whole.append(views)
    taken = 0
    for told, views in zip(unfold(rows), whole, strict=True):
        for one, view in zip(told, views, strict=True):
            same(one["view"], view)
            assert not one["glimpsed"] or one["taken"]
            taken += one["taken"]
    assert taken > 8


def test_another_kit_is_told_whole_and_back_again():
    texts = documents(8)
    rows = [
        [{"reply": ask(ask="open", text=text, have="")}]
        + [{"reply": ask(ask="view", document=text, have="", kit=kit)} for kit in (*KITS, "")]
        for text in texts
    ]
    for text, told in zip(texts, unfold(rows), strict=True):
        for kit, one in zip(("", *KITS, ""), told, strict=True):
            same(one["view"], ask(ask="open", text=text, kit=kit))
