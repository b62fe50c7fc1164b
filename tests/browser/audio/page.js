/**
 * The page the sound is tested in: the real Player, the real kit, and ways to hand sound over to the tests.
 * Everything goes to the test's server by POST /store/<name>.
 */
import { Kit } from "../../../web/audio/kit.js";
import { lineOf } from "../../../web/audio/line.js";
import { Player, upAndBack } from "../../../web/audio/player.js";

const RATE = 44100;

async function store(name, body) {
  const answer = await fetch(`store/${name}`, { method: "POST", body });
  if (!answer.ok) throw new Error(`could not store ${name}`);
}

async function samplesOf(kit, rate) {
  const context = new OfflineAudioContext(1, 1, rate);
  const all = [];
  for (const part of kit.parts) all.push(...(await kit.samples(part, context)));
  return all;
}

/** Hand over all decoded samples: a list of where they lie, and one row of floats. */
async function dump(name, rate = RATE) {
  const kit = await Kit.open("kit/kit.json");
  const samples = await samplesOf(kit, rate);
  let at = 0;
  const list = samples.map(({ slot, alternate, pcm }) => {
    const piece = { slot, alternate, start: at, frames: pcm.length };
    at += pcm.length;
    return piece;
  });
  await store(`${name}.json`, JSON.stringify({ list, surfaces: kit.surfaceNames }));
  await store(`${name}.f32`, new Blob(samples.map(({ pcm }) => pcm)));
}

/** @type {Map<number, Promise<{ kit: Kit, samples: object[] }>>} the kit that renderings share, by rate: decoding takes long */
const decoded = new Map();

function decodedAt(rate) {
  if (!decoded.has(rate)) decoded.set(rate, Kit.open("kit/kit.json").then(async (kit) => ({ kit, samples: await samplesOf(kit, rate) })));
  return decoded.get(rate);
}

/** Make commands ready for the processor: its lines are made here, of the numbered timelines. */
async function commandsFor(timelines, commands, rate) {
  const { kit, samples } = await decodedAt(rate);
  const numberOf = (surface) => kit.surfaceNumber(surface);
  const line = (index, bpm) =>
    lineOf(index, timelines[index], bpm ?? timelines[index].tempo, rate, numberOf, kit.clickSurface);
  const programme = ({ entries, then, lead = null }) => {
    const lines = new Map(entries.map((entry) => [entry.timeline, line(entry.timeline, entry.bpm)]));
    const counted = lead === null ? null : { line: line(lead), passes: 1, tag: -1 };
    return { then, lead: counted, entries: entries.map(({ timeline, passes, tag }) => ({ line: lines.get(timeline), passes, tag })) };
  };
  const ready = commands.map((command) => {
    if (command.programme !== undefined) return { ...command, programme: programme(command.programme) };
    if (command.kind === "retime") return { ...command, lines: timelines.map((_, index) => line(index, command.bpm)) };
    if (command.kind !== "gains") return command;
    const groups = Float32Array.from(command.groups);
    const gain = (surface) => command.surfaces[surface] ?? 1;
    return { ...command, groups, surfaces: Float32Array.from([...kit.surfaceNames.map(gain), 1]) };
  });
  return [{ kind: "surfaces", surfaces: kit.surfaces() }, { kind: "samples", samples }, ...ready];
}

/** A context without a device that does these commands. */
async function staged(timelines, commands, frames, rate) {
  const ready = await commandsFor(timelines, commands, rate);
  const context = new OfflineAudioContext(2, frames, rate);
  await context.audioWorklet.addModule("processor.js");
  const node = new AudioWorkletNode(context, "groundbeat", {
    numberOfInputs: 0,
    outputChannelCount: [2],
    processorOptions: { commands: ready },
  });
  node.connect(context.destination);
  return { context, node };
}

/** Render commands without a device. */
async function render(name, timelines, commands, frames, rate = RATE) {
  const { context, node } = await staged(timelines, commands, frames, rate);
  const notes = [];
  node.port.onmessage = ({ data }) => notes.push(data instanceof Float64Array ? Array.from(data) : data);
  const buffer = await context.startRendering();
  await new Promise((resolve) => setTimeout(resolve, 50)); // messages of the last blocks
  await store(name, new Blob([buffer.getChannelData(0), buffer.getChannelData(1)]));
  return notes;
}

/** Milliseconds that rendering commands takes. */
async function timed(timelines, commands, frames, rate = RATE) {
  const { context } = await staged(timelines, commands, frames, rate);
  const begun = performance.now();
  await context.startRendering();
  return performance.now() - begun;
}

const heard = { events: [], chunks: [], notes: [], positions: [], begun: null, latency: 0 };
let player = null;

/** Make a Player whose raw output is recorded; the play button plays it. */
function arrange(setting) {
  player = new Player({
    kit: setting.kit ?? "kit/kit.json",
    processor: setting.processor ?? "processor.js",
    async tap(output, context) {
      output.port.addEventListener("message", ({ data }) => {
        if (data.kind === "begun") heard.begun = data;
        if (data instanceof Float64Array) heard.notes.push(Array.from(data));
      });
      await context.audioWorklet.addModule("recorder.js");
      const recorder = new AudioWorkletNode(context, "recorder");
      recorder.port.onmessage = ({ data }) => heard.chunks.push(data);
      output.connect(recorder).connect(context.destination);
      heard.context = context;
    },
  });
  for (const kind of ["state", "stage", "problem"]) {
    player.addEventListener(kind, ({ detail }) => heard.events.push({ kind, ...detail }));
  }
  Object.assign(player, setting.player ?? {});
  if (setting.timeline) player.load(setting.timeline);
  document.querySelector("#play").onclick = () => player.play();
  if (setting.watch) watch();
}

function watch() {
  const context = heard.context;
  if (context !== undefined) {
    const place = player.position();
    if (place !== null) {
      const latency = context.outputLatency || context.baseLatency || 0;
      heard.positions.push([(context.currentTime - latency) * context.sampleRate, place.pass, place.ticks]);
    }
  }
  requestAnimationFrame(watch);
}

/** Keep the main thread busy for so many milliseconds, again and again. */
function block(milliseconds, every) {
  setInterval(() => {
    const until = performance.now() + milliseconds;
    while (performance.now() < until);
    heard.blocks = (heard.blocks ?? 0) + 1;
  }, every);
}

/** Wait till something holds; looked at 20 times a second. */
async function until(holds) {
  while (!holds()) await new Promise((resolve) => setTimeout(resolve, 50));
}

/** Wait till so many frames from the first stroke on are recorded. */
function recorded(frames) {
  const reached = () => heard.chunks.at(-1).frame + heard.chunks.at(-1).lead + heard.chunks.at(-1).left.length;
  return until(() => heard.begun !== null && heard.chunks.length > 0 && reached() >= heard.begun.frame + frames);
}

/** Wait for an event of the player, also one that has been. */
async function event(kind, wanted = {}) {
  const fits = (one) => Object.entries({ kind, ...wanted }).every(([key, value]) => one[key] === value);
  await until(() => heard.events.some(fits));
  return heard.events.find(fits);
}

/** Hand over what was recorded: left channel, then right. */
async function deliver(name) {
  const chunks = [...heard.chunks];
  // What the processor learnt late about its count of frames holds for all it has said before.
  const lead = heard.notes.at(-1)[8];
  const isFrame = [0, 1, 6];
  const right = (note) => note.map((value, k) => (isFrame.includes(k) ? value + lead - note[8] : value));
  const notes = heard.notes.map(right);
  await store(name, new Blob([...chunks.map(({ left }) => left), ...chunks.map(({ right }) => right)]));
  return {
    start: chunks[0].frame + chunks.at(-1).lead,
    frames: chunks.reduce((sum, { left }) => sum + left.length, 0),
    begun: heard.begun.frame + lead - heard.begun.lead,
    rate: heard.context.sampleRate,
    blocks: heard.blocks ?? 0,
    positions: heard.positions,
    notes,
    leads: [lead, chunks.at(-1).lead],
  };
}

const ways = { dump, render, commandsFor, timed, arrange, block, until, recorded, event, deliver, upAndBack };
globalThis.bench = { ...ways, heard, player: () => player };
