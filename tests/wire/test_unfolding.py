"""The page unfolds a folded view into the very view that the engine tells whole, through any row of edits."""

from __future__ import annotations

import json
import subprocess
from random import Random

from groundbeat.bridge.door import answer
from groundbeat.site.tools import node
from tests.conftest import ROOT
from tests.wire.corpus import documents

PROGRAM = """
import { Unfolder } from %s;
const chunks = [];
for await (const chunk of process.stdin) chunks.push(chunk);
const out = JSON.parse(Buffer.concat(chunks).toString()).map((row) => {
  const unfolder = new Unfolder();
  return row.map((reply) => ({ view: unfolder.unfold(reply), have: unfolder.have }));
});
process.stdout.write(JSON.stringify(out));
"""


def unfold(rows: list[list[dict]]) -> list[list[dict]]:
    """Unfold each row of replies by one unfolder, in Node."""
    program = PROGRAM % json.dumps((ROOT / "web" / "app" / "unfold.js").as_uri())
    done = subprocess.run(
        [node(), "--input-type=module", "-e", program], input=json.dumps(rows), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)


def ask(**request) -> dict:
    return json.loads(answer(json.dumps(request)))


def marks(reply: dict) -> str:
    return " ".join([reply["frame"]["mark"], *(stage["mark"] for stage in reply["stages"])])


def same(view: dict, whole: dict) -> None:
    def bare(one: dict) -> dict:
        stages = [stage | {"threads": sorted(stage["threads"], key=lambda t: t["id"])} for stage in one["stages"]]
        return one | {"stages": stages}

    assert bare(view) == bare(whole)


def test_random_documents_unfold_to_the_whole_view():
    texts = documents(60)
    folded = [[ask(ask="open", text=text, have="")] for text in texts]
    for text, (told,) in zip(texts, unfold(folded), strict=True):
        same(told["view"], ask(ask="open", text=text))


def test_a_row_of_edits_unfolds_step_by_step():
    dice = Random(8)
    folded, whole = [], []
    for text in documents(12):
        replies, views = [ask(ask="open", text=text, have="")], [ask(ask="open", text=text)]
        for _ in range(8):
            now = views[-1]
            stage = dice.randrange(len(now["stages"]))
            at = dice.choice(now["grid"])["at"]
            question = {"ask": "tap", "document": now["document"], "stage": stage, "at": at}
            question["surface"] = dice.choice(["snare", "kick", "hi-hat", "crash"])
            reply = ask(**question, have=marks(replies[-1]))
            if "refused" in reply:  # a stage that is off
                continue
            replies.append(reply)
            views.append(ask(**question))
        folded.append(replies)
        whole.append(views)
    for told, views in zip(unfold(folded), whole, strict=True):
        for one, view in zip(told, views, strict=True):
            same(one["view"], view)


def test_what_the_page_has_does_not_cross_again():
    text = documents(5)[-1]
    first = ask(ask="open", text=text, have="")
    again = ask(ask="open", text=text, have=marks(first))
    assert set(again["frame"]) == {"mark"}
    assert all(set(stage) == {"stage", "mark"} for stage in again["stages"])


def test_a_part_that_is_gone_is_noticed():
    text = documents(5)[-1]
    first = ask(ask="open", text=text, have="")
    again = ask(ask="open", text=text, have=marks(first))
    ((told,),) = [unfold([[again]])[0]]
    assert told["view"] is None


def test_a_timeline_in_rows_unfolds_to_the_whole_timeline():
    program = PROGRAM.replace("{ Unfolder }", "{ unfoldTimeline }").replace("const unfolder = new Unfolder();", "")
    program = program.replace("({ view: unfolder.unfold(reply), have: unfolder.have })", "unfoldTimeline(reply)")
    texts = documents(40)
    rows = [[ask(ask="timeline", document=text, stage=0, have="")] for text in texts]
    program %= json.dumps((ROOT / "web" / "app" / "unfold.js").as_uri())
    done = subprocess.run(
        [node(), "--input-type=module", "-e", program], input=json.dumps(rows), capture_output=True, text=True
    )
    assert done.returncode == 0, done.stderr
    for text, (told,) in zip(texts, json.loads(done.stdout), strict=True):
        assert told == ask(ask="timeline", document=text, stage=0)
