/** The inks of style.css, measured: readable as text, and neighbours apart for every kind of colour vision.
 *
 * Contrast: WCAG 2.2, 1.4.3. Distances: OKLab (B. Ottosson, 2020). Colour vision: Machado, Oliveira and Fernandes, "A
 * physiologically-based model for simulation of colour vision deficiency", 2009, severity 1.0, in linear RGB.
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";
import { INKS, inkOf } from "../../web/draw/colours.js";

const css = readFileSync(new URL("../../web/style.css", import.meta.url), "utf8");
const [light, dark] = css.split("prefers-color-scheme: dark").map((part) =>
  Object.fromEntries([...part.matchAll(/--([\w-]+): (#[0-9a-f]{6});/g)].map(([, name, value]) => [name, value])),
);

const linear = (hex) => [1, 3, 5].map((i) => {
  const v = parseInt(hex.slice(i, i + 2), 16) / 255;
  return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4;
});
const times = (m, v) => m.map((row) => row[0] * v[0] + row[1] * v[1] + row[2] * v[2]);
const luminance = (hex) => times([[0.2126, 0.7152, 0.0722]], linear(hex))[0];
const contrast = (a, b) => (Math.max(luminance(a), luminance(b)) + 0.05) / (Math.min(luminance(a), luminance(b)) + 0.05);
const oklab = (rgb) => times(
  [[0.2104542553, 0.793617785, -0.0040720468], [1.9779984951, -2.428592205, 0.4505937099], [0.0259040371, 0.7827717662, -0.808675766]],
  times([[0.4122214708, 0.5363325363, 0.0514459929], [0.2119034982, 0.6806995451, 0.1073969566], [0.0883024619, 0.2817188376, 0.6299787005]],
    rgb.map((v) => Math.min(1, Math.max(0, v)))).map(Math.cbrt));
const SEEN = [
  [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
  [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]],
  [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.01182, 0.04294, 0.968881]],
  [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.3039]],
];
const distance = (a, b) => Math.min(...SEEN.map((m) => {
  const [p, q] = [oklab(times(m, linear(a))), oklab(times(m, linear(b)))];
  return Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}));

for (const [name, set] of Object.entries({ light, dark: { ...light, ...dark } })) {
  const inks = Array.from({ length: INKS + 1 }, (_, i) => set[`ink-${i}`]);

  test(`${name}: every ink reads as text on every ground`, () => {
    for (const ink of [...inks, set.soft, set.faint, set["lamp-text"]]) {
      for (const ground of [set.paper, set.raised, set.sunk]) assert.ok(contrast(ink, ground) >= 4.5, `${ink} on ${ground}`);
    }
  });

  test(`${name}: the inks of neighbours are apart for every kind of colour vision`, () => {
    for (let i = 1; i < INKS; i += 1) assert.ok(distance(inks[i], inks[i + 1]) >= 0.09, `${i} and ${i + 1}`);
  });

  test(`${name}: no two inks look the same`, () => {
    for (let i = 0; i <= INKS; i += 1) {
      for (let j = 0; j < i; j += 1) assert.ok(distance(inks[i], inks[j]) >= 0.04, `${j} and ${i}`);
    }
  });
}

test("stages beyond the inks begin again with the first, never with the base beat's", () => {
  assert.deepEqual([0, 1, INKS, INKS + 1].map(inkOf), [0, 1, INKS, 1]);
});
