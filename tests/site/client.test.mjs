/** The promises of EngineClient, kept against a worker made of a script of what it does. Run by test_client.py. */

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";
import { EngineClient, EngineLost, EngineOvertaken, EngineRefusal } from "../../web/engine/client.js";

/** A worker whose test says what it does: it starts by itself, and keeps what it is asked. */
class ScriptedWorker {
  onmessage = null;
  onerror = null;
  onmessageerror = null;
  asked = [];
  terminated = false;

  constructor(starts = true) {
    this.starts = starts;
  }

  postMessage(message) {
    if (message.start) {
      this.runtime = message.start.runtime;
      if (this.starts) queueMicrotask(() => this.say({ progress: { stage: "ready", done: 1 } }));
    } else this.asked.push({ n: message.n, ...JSON.parse(message.text) });
  }

  say(data) {
    this.onmessage?.({ data });
  }

  answer(reply, question = this.asked.at(-1)) {
    this.say({ n: question.n, text: JSON.stringify(reply) });
  }

  terminate() {
    this.terminated = true;
  }
}

let client;
// Time stands still until a test moves it: patience and deadlines are the real ones, and nothing waits for them.
beforeEach(() => mock.timers.enable({ apis: ["setTimeout"] }));
afterEach(() => {
  client?.close();
  mock.timers.reset();
});

/** Make a client; `workers` collects what it starts, `states` what it tells. */
function make({ workers = [], states = [], make: makeWorker = () => new ScriptedWorker(), ...options } = {}) {
  client = new EngineClient({
    worker: "http://here/app/worker.js",
    runtime: "http://here/py/1/",
    makeWorker: (url) => {
      const worker = makeWorker(workers.length, url);
      workers.push(worker);
      return worker;
    },
    ...options,
  });
  client.addEventListener("state", (event) => states.push(event.detail));
  return client;
}

/** Wait until something holds; the runner's own time limit ends a wait in vain. */
async function until(holds) {
  while (!holds()) await new Promise((resolve) => setImmediate(resolve));
}

test("a question asked before the start is answered after it", async () => {
  const workers = [];
  const states = [];
  const answer = make({ workers, states }).ask({ ask: "hello" });
  await until(() => workers[0]?.asked.length);
  assert.equal(workers[0].runtime, "http://here/py/1/");
  workers[0].answer({ answer: "hello", version: "1" });
  assert.deepEqual(await answer, { answer: "hello", version: "1" });
  assert.deepEqual(states.map(({ state }) => state), ["starting", "ready"]);
});

test("a refusal carries code, message and field", async () => {
  const workers = [];
  const answer = make({ workers }).ask({ ask: "open", text: "" });
  await until(() => workers[0]?.asked.length);
  workers[0].answer({ refused: { code: "link.cut-short", message: "It was cut short.", field: "text" } });
  await assert.rejects(answer, (error) => {
    assert.ok(error instanceof EngineRefusal);
    assert.deepEqual([error.code, error.message, error.field], ["link.cut-short", "It was cut short.", "text"]);
    return true;
  });
});

test("one question at a time goes to the worker, in order", async () => {
  const workers = [];
  make({ workers });
  const answers = ["a", "b"].map((ask) => client.ask({ ask }));
  await until(() => workers[0]?.asked.length);
  assert.deepEqual(workers[0].asked.map(({ ask }) => ask), ["a"]);
  workers[0].answer({ answer: "a" });
  assert.deepEqual(workers[0].asked.map(({ ask }) => ask), ["a", "b"]);
  workers[0].answer({ answer: "b" });
  assert.deepEqual((await Promise.all(answers)).map(({ answer }) => answer), ["a", "b"]);
});

test("a newer question of a lane overtakes the older ones, waiting or at work, and no other", async () => {
  const workers = [];
  make({ workers });
  const first = client.ask({ ask: "first" }, { supersedes: "view" });
  await until(() => workers[0]?.asked.length);
  const second = client.ask({ ask: "second" }, { supersedes: "view" });
  const other = client.ask({ ask: "other" }, { supersedes: "sound" });
  const third = client.ask({ ask: "third" }, { supersedes: "view" });
  await assert.rejects(first, EngineOvertaken);
  await assert.rejects(second, EngineOvertaken);
  for (const reply of ["first", "other", "third"]) workers[0].answer({ answer: reply });
  assert.equal((await other).answer, "other");
  assert.equal((await third).answer, "third");
  assert.deepEqual(workers[0].asked.map(({ ask }) => ask), ["first", "other", "third"]);
});

test("a question that passes its deadline is lost, and the next goes to a new worker", async () => {
  const workers = [];
  const states = [];
  make({ workers, states });
  const slow = client.ask({ ask: "slow" }, { deadline: 5_000 });
  const next = client.ask({ ask: "next" });
  await until(() => workers[0]?.asked.length);
  mock.timers.tick(4_999);
  assert.ok(!workers[0].terminated);
  mock.timers.tick(1);
  await assert.rejects(slow, (error) => error instanceof EngineLost && error.code === "engine.too-slow");
  assert.ok(workers[0].terminated);
  await until(() => workers[1]?.asked.length);
  workers[1].answer({ answer: "next" });
  assert.equal((await next).answer, "next");
  assert.deepEqual(states.map(({ state }) => state), ["starting", "ready", "restarting", "ready"]);
});

test("a worker that dies twice without an answer between is told, and everything settles", async () => {
  const workers = [];
  make({ workers });
  const asked = ["a", "b", "c"].map((ask) => client.ask({ ask }));
  const lost = Promise.allSettled(asked);
  for (const number of [0, 1]) {
    await until(() => workers[number]?.asked.length);
    workers[number].onerror({ preventDefault() {} });
  }
  const codes = (await lost).map(({ reason }) => reason.code);
  assert.deepEqual(codes, ["engine.crashed", "engine.crashed", "engine.died-twice"]);
  assert.equal(client.state.state, "failed");
  assert.match(client.state.message, /stopped twice/);
  await assert.rejects(client.ask({ ask: "d" }), EngineLost);
  assert.equal(workers.length, 2);
});

test("an answer between two deaths means another try", async () => {
  const workers = [];
  make({ workers });
  for (const number of [0, 1, 2]) {
    const good = client.ask({ ask: "good" });
    await until(() => workers[number]?.asked.length);
    workers[number].answer({ answer: "good" });
    await good;
    const bad = client.ask({ ask: "bad" });
    workers[number].say({ failed: { code: "engine.crashed", message: "Out of memory." } });
    await assert.rejects(bad, /Out of memory/);
  }
  await until(() => client.state.state === "ready");
  assert.equal(workers.length, 4);
});

test("a start without progress is ended, tried once more, and then told", async () => {
  const workers = [];
  make({ workers, make: () => new ScriptedWorker(false) });
  const answer = client.ask({ ask: "hello" });
  mock.timers.tick(30_000);
  assert.equal(client.state.state, "restarting");
  mock.timers.tick(30_000);
  await assert.rejects(answer, (error) => error.code === "engine.stalled");
  assert.equal(workers.length, 2);
  assert.ok(workers.every(({ terminated }) => terminated));
  assert.equal(client.state.code, "engine.stalled");
});

test("progress keeps a slow start alive and is told", async () => {
  const workers = [];
  const states = [];
  make({ workers, states, make: () => new ScriptedWorker(false) });
  client.start();
  for (const done of [0.2, 0.4, 0.6, 0.8, 1]) {
    mock.timers.tick(29_999);
    workers[0].say({ progress: { stage: "runtime", done } });
  }
  workers[0].say({ progress: { stage: "ready", done: 1 } });
  assert.equal(workers.length, 1);
  assert.equal(client.state.state, "ready");
  assert.deepEqual(states.map(({ done }) => done), [0, 0.2, 0.4, 0.6, 0.8, 1, 1]);
});

test("where no worker may be made, that is said at once", async () => {
  make({
    make: () => {
      throw new DOMException("no", "SecurityError");
    },
  });
  await assert.rejects(client.ask({ ask: "hello" }), (error) => error.code === "engine.no-worker");
  assert.match(client.state.message, /tab of its own/);
});

test("blocked WebAssembly is said at once, without a second try", async () => {
  const workers = [];
  make({ workers, make: () => new ScriptedWorker(false) });
  const answer = client.ask({ ask: "hello" });
  workers[0].say({ failed: { code: "engine.wasm-blocked" } });
  await assert.rejects(answer, /WebAssembly is blocked/);
  assert.equal(workers.length, 1);
});

test("a worker whose script does not load is a matter of the network, and start() tries again", async () => {
  const workers = [];
  make({ workers, make: (number) => new ScriptedWorker(number > 1) });
  const answer = client.ask({ ask: "hello" });
  for (const number of [0, 1]) workers[number].onerror({});
  await assert.rejects(answer, (error) => error.code === "engine.network");
  client.start();
  await until(() => client.state.state === "ready");
  assert.equal(workers.length, 3);
});

test("the last words of a replaced worker are not heard", async () => {
  const workers = [];
  make({ workers });
  const slow = client.ask({ ask: "slow" });
  await until(() => workers[0]?.asked.length);
  const hear = workers[0].onmessage;
  mock.timers.tick(20_000);
  await assert.rejects(slow, EngineLost);
  const next = client.ask({ ask: "next" });
  await until(() => workers[1]?.asked.length);
  hear({ data: { n: workers[1].asked[0].n, text: '{"answer":"stale"}' } });
  workers[1].answer({ answer: "next" });
  assert.equal((await next).answer, "next");
});

test("a closed client settles what was asked and takes no more", async () => {
  const workers = [];
  make({ workers });
  const asked = Promise.allSettled([client.ask({ ask: "a" }), client.ask({ ask: "b" })]);
  await until(() => workers[0]?.asked.length);
  client.close();
  assert.deepEqual((await asked).map(({ reason }) => reason.code), ["engine.closed", "engine.closed"]);
  await assert.rejects(client.ask({ ask: "c" }), EngineLost);
  assert.ok(workers[0].terminated);
});
