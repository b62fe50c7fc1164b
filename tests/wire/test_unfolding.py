"""The page unfolds a folded view into the very view that the engine tells whole, through any row of edits."""

from __future__ import annotations

import json
import subprocess
from itertools import pairwise
from random import Random

from groundbeat.bridge import door
from groundbeat.bridge.door import answer
from groundbeat.site.tools import node
from tests.conftest import ROOT
from tests.wire.corpus import documents

PROGRAM = """
import { unfold, unfoldGlimpse } from %s;
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
const out = JSON.parse(Buffer.concat(chunks).toString()).map((row) => {
  let shown = null;
  return row.map(({ glimpse, reply }) => {
    const first = glimpse && shown ? unfoldGlimpse(glimpse, shown) : null;
    const stage = first ? first.stages[glimpse.stage] : null;
    shown = unfold(reply, shown, stage);
    return { view: shown, glimpsed: stage, taken: stage !== null && shown.stages[stage.stage] === stage };
  });
});
process.stdout.write(JSON.stringify(out));
"""


def unfold(rows: list[list[dict]]) -> list[list[dict]]:
    """Unfold each row of replies, each against the view before it, in Node."""
    program = PROGRAM % json.dumps((ROOT / "web" / "app" / "unfold.js").as_uri())
    done = subprocess.run(
        [node(), "--input-type=module", "-e", program], input=json.dumps(rows), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def ask(**request) -> dict:
    return json.loads(answer(json.dumps(request)))


def same(view: dict, whole: dict) -> None:
    def bare(one: dict) -> dict:
        stages = [stage | {"threads": sorted(stage["threads"], key=lambda t: t["id"])} for stage in one["stages"]]
        return one | {"stages": stages}

    assert bare(view) == bare(whole)


def test_random_documents_unfold_to_the_whole_view():
    texts = documents(60)
    folded = [[{"reply": ask(ask="open", text=text, have="")}] for text in texts]
    for text, (told,) in zip(texts, unfold(folded), strict=True):
        same(told["view"], ask(ask="open", text=text))


def edit_of(view: dict, dice: Random) -> dict:
    """Some edit of a view that its page could ask for."""
    stage = dice.randrange(len(view["stages"]))
    key = view["stages"][stage]["key"]
    at = dice.choice(view["grid"])["at"]
    surface = dice.choice(["snare", "kick", "hi-hat", "crash"])
    edits = [{"ask": "tap", "stage": stage, "at": at, "surface": surface}] * 3
    if strokes := view["stages"][stage]["strokes"]:
        stroke = dice.choice(strokes)
        where = {"stage": stage, "at": stroke["at"], "surface": stroke["surface"]}
        edits.append({"ask": "shape", **where, "quality": "dynamic", "value": dice.choice(["ghost", "accent"])})
        edits.append({"ask": "drag", **where, "to_surface": stroke["surface"], "to_at": at})
    if stage:
        edits.append({"ask": "switch", "key": key, "on": not view["stages"][stage]["on"]})
        edits.append({"ask": "move", "key": key, "to": dice.randrange(len(view["stages"]) - 1) + 1})
        edits.append({"ask": "name", "key": key, "name": "Another", "note": "and a note"})
        edits.append({"ask": "remove", "key": key})
    return {**dice.choice(edits), "document": view["document"]}


def test_a_row_of_edits_unfolds_step_by_step():
    dice = Random(8)
    rows, whole = [], []
    for text in documents(24):
        replies, views = [{"reply": ask(ask="open", text=text, have="")}], [ask(ask="open", text=text)]
        for _ in range(12):
            question = edit_of(views[-1], dice)
            reply = ask(**question, have="=")
            if "refused" in reply:  # a stage that is off, or a place that is taken
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
            if one["glimpsed"]:
                assert one["taken"], "what is told first is what the whole view tells"
            taken += one["taken"]
    assert taken > 60


def test_any_other_document_can_be_what_the_page_shows():
    texts = documents(30)
    rows = [
        [{"reply": ask(ask="open", text=one, have="")}, {"reply": ask(ask="view", document=two, have=one)}]
        for one, two in pairwise(texts)
    ]
    for (_, two), (_, told) in zip(pairwise(texts), unfold(rows), strict=True):
        same(told["view"], ask(ask="view", document=two))


def test_what_the_page_has_does_not_cross_again():
    text = documents(5)[-1]
    again = ask(ask="view", document=text, have=text)
    assert again["grid"] is None
    assert again["stages"] == [{"like": number} for number in range(len(again["stages"]))]


def test_a_folded_answer_is_a_function_of_its_question_alone():
    text = documents(5)[-1]
    question = {"ask": "tap", "document": text, "stage": 0, "surface": "kick", "at": 0}
    for more in ({"have": "="}, {"first": True}):
        warm = ask(**question, **more)
        door.forget()
        assert ask(**question, **more) == warm


def test_a_timeline_in_rows_unfolds_to_the_whole_timeline():
    program = """
import { unfoldTimeline } from %s;
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
const out = JSON.parse(Buffer.concat(chunks).toString()).map((row) => row.map(unfoldTimeline));
process.stdout.write(JSON.stringify(out));
"""
    texts = documents(40)
    counted = {"clicks": "shrinking", "count_in": 1}
    rows = [[ask(ask="timeline", document=text, stage=0, **more, have="") for more in ({}, counted)] for text in texts]
    program %= json.dumps((ROOT / "web" / "app" / "unfold.js").as_uri())
    done = subprocess.run(
        [node(), "--input-type=module", "-e", program], input=json.dumps(rows), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    for text, (told, full) in zip(texts, json.loads(done.stdout), strict=True):
        assert told == ask(ask="timeline", document=text, stage=0)
        assert full == ask(ask="timeline", document=text, stage=0, **counted)
