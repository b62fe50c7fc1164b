"""Going from way to way unfolds step by step into the view that the engine tells whole."""

from __future__ import annotations

from random import Random

from tests.wire.corpus import documents
from tests.wire.test_unfolding import ask, edit_of, same, unfold


def step(view: dict, dice: Random) -> dict:
    """Some edit, mostly one of the ways."""
    keys = [stage["key"] for stage in view["stages"]]
    changes = [{"ask": "fork", "after": dice.choice(keys)}, {"ask": "add", "kind": "displace", "after": keys[-1]}]
    if view["ways"]:
        way = dice.randrange(len(view["ways"]))
        changes += [{"ask": "exchange", "way": way}] * 3
        changes += [{"ask": "call", "way": way, "name": "Another"}, {"ask": "part", "way": way}]
    return edit_of(view, dice) if dice.random() < 0.3 else {**dice.choice(changes), "document": view["document"]}


def test_ways_unfold_in_any_row_of_edits():
    dice = Random(5)
    rows, whole, exchanged = [], [], 0
    for text in documents(12):
        replies, views = [{"reply": ask(ask="open", text=text, have="")}], [ask(ask="open", text=text)]
        for _ in range(20):
            question = step(views[-1], dice)
            reply = ask(**question, have="=")
            if "refused" in reply:
                continue
            exchanged += question["ask"] == "exchange"
            replies.append({"reply": reply, "glimpse": ask(**question, first=True)})
            views.append(ask(**question))
        rows.append(replies)
        whole.append(views)
    for told, views in zip(unfold(rows), whole, strict=True):
        for one, view in zip(told, views, strict=True):
            same(one["view"], view)
    assert exchanged > 20
