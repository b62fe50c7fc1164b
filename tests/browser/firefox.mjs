/**
 * Open an address in a real Firefox and print what is drawn, as JSON: node firefox.mjs PROGRAM ADDRESS PROBE STAGES
 *
 * PROBE is an expression (deep.js); it is asked again until so many stages are drawn or half a minute has passed.
 */
import { createRequire } from "node:module";
import { readFileSync } from "node:fs";

const [program, address, probe, stages, modules] = process.argv.slice(2);
const puppeteer = createRequire(modules)("puppeteer-core");
const browser = await puppeteer.launch({ browser: "firefox", executablePath: program, headless: true });
try {
  const page = await browser.newPage();
  await page.goto(address);
  const text = readFileSync(probe, "utf8");
  let seen;
  const end = Date.now() + 30_000;
  do {
    await new Promise((resolve) => setTimeout(resolve, 250));
    seen = await page.evaluate(text);
  } while (seen.stages < Number(stages) && Date.now() < end);
  console.log(JSON.stringify(seen));
} finally {
  await browser.close();
}
