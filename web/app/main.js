/**
 * Where everything meets: makes the store, the engine's client, the player and the page, and introduces them.
 *
 * The addresses of the other parts stand in data attributes of the root element, written there by the build.
 */

import { render } from "lit";
import { Player } from "../audio/player.js";
import { EngineClient } from "../engine/client.js";
import { listenForDrops } from "../input/files.js";
import { commandOf } from "../input/keys.js";
import "../view/gb-listening.js";
import "../view/gb-notice.js";
import "../view/gb-opener.js";
import "../view/gb-stages.js";
import "../view/gb-starting.js";
import "../view/gb-transport.js";
import { Address } from "./address.js";
import { Commands } from "./commands.js";
import { Listening } from "./listening.js";
import { keepForOffline } from "./offline.js";
import { layPage } from "./page.js";
import { SOUNDS, storedSound } from "./own-sound.js";
import { Store } from "./store.js";
import { fetchStored } from "./stored.js";

const NO_SOUND =
  "This page came over plain http, so the browser gives it no sound and keeps nothing for offline use. Everything is " +
  "drawn all the same. To hear it, open the page by its https address, or on the computer that serves it as localhost.";

/** Milliseconds to wait where a browser does not say when it is idle. Our choice. */
const REST = 500;

const ONLY_AN_EXAMPLE = " What you see is an example, not what the link holds.";

const { worker = "", processor = "", runtime = "", kit = "", stored = "" } = document.documentElement.dataset;
const main = /** @type {HTMLElement} */ (document.querySelector("main"));
const store = new Store();
const engine = new EngineClient({ worker, runtime });
const player = new Player({ kit, processor });
const address = new Address();
const listening = new Listening(player, engine, store);
const commands = new Commands(store, engine, listening, address);
let kept = false;
let warmed = false;

function show() {
  const { view } = store.state;
  document.title = view?.title ? `${view.title} · Groundbeat` : "Groundbeat";
  render(layPage(store.state, commands, () => listening.hear()), main);
  warm();
}

/** Fetch what the groove on the page needs of the kit, once it is drawn and nothing else is to be done: then the first play waits less. */
function warm() {
  if (warmed || !isSecureContext || store.state.engine !== "ready" || !store.state.timeline) return;
  warmed = true;
  const idle = globalThis.requestIdleCallback ?? ((/** @type {() => void} */ act) => setTimeout(act, REST));
  idle(() => player.warm(), { timeout: 10 * REST });
}

async function showExample() {
  const [view, line] = await Promise.all([fetchStored(stored, "example.view.json"), fetchStored(stored, "example.timeline.json")]);
  if (view) commands.showExample(view, line);
}

/** @param {import("../engine/client.js").EngineState} state */
function hearEngine({ state, stage, done, message }) {
  store.set({ engine: state, engineStage: stage, engineDone: done });
  if (state === "ready") store.tell("engine", null);
  if (state === "ready" && !kept) {
    kept = true;
    keepForOffline();
    listening.follow();
  }
  if (state === "failed") failed(message);
}

/** @param {string} message */
async function failed(message) {
  store.set({ expecting: false });
  await showExample();
  const text = store.state.origin === "example" && address.read() ? message + ONLY_AN_EXAMPLE : message;
  store.tell("engine", { text, trouble: true, again: commands.canTryAgain });
}

store.set({ sounds: SOUNDS, sounding: storedSound() });
listening.settle();
main.replaceChildren();
store.listen(show);
engine.addEventListener("state", (event) => hearEngine(/** @type {CustomEvent} */ (event).detail));
if (!isSecureContext) store.tell("sound", { text: NO_SOUND, trouble: true, again: false });

addEventListener("keydown", (event) => {
  const command = commandOf(event);
  if (!command || (command === "changeOver" && !store.state.turns.on)) return;
  event.preventDefault();
  commands[command]();
});
listenForDrops(window, {
  over: (dropping) => {
    if (store.state.dropping !== dropping) store.set({ dropping });
  },
  file: (file) => commands.openFile(file),
  text: (text) => commands.open(text),
});
address.listen((fragment) => commands.open(`#${fragment}`));

fetchStored(stored, "beats.json").then((beats) => Array.isArray(beats) && store.set({ beats }));
const link = address.read();
if (link) commands.open(`#${link}`);
else showExample();
engine.start();
show();
