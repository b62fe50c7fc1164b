/**
 * Write the service worker that lets the page open without a network.
 *
 *     node offline.mjs WEB OUT
 *
 * It keeps every file of the folder but the source maps and the sounds of the kits that have to be chosen: those are kept
 * when they have come. A new version waits until the page asks for it
 * (postMessage {type: "SKIP_WAITING"}): taking over unasked would mix an old page with new files. The limit on sizes
 * is set because the default silently leaves out the 9.6 MB of WebAssembly; and any warning ends the build.
 */

import { createRequire } from "node:module";
import { join, resolve } from "node:path";

const [web, out] = process.argv.slice(2).map((path) => resolve(path));
const { generateSW } = createRequire(join(web, "package.json"))("workbox-build");
const { warnings, count, size } = await generateSW({
  swDest: join(out, "sw.js"),
  globDirectory: out,
  globPatterns: ["**/*"],
  globIgnores: ["**/*.map", "sw.js", "kit/*/*.{ogg,mp3}"],
  runtimeCaching: [
    // Their names carry a hash of their content too.
    { urlPattern: /\/kit\/[\w-]+\/[\w.-]+\.(ogg|mp3)$/, handler: "CacheFirst", options: { cacheName: "other-kits", expiration: { maxEntries: 40 } } },
  ],
  // These names carry a hash of their content: no need to fetch them past the browser's own cache.
  dontCacheBustURLsMatching: /(^|\/)(py\/|app\/|[\w-]+[.-][0-9a-zA-Z]{8,}\.(js|css|ogg|mp3|zip)$)/,
  maximumFileSizeToCacheInBytes: 15e6,
  inlineWorkboxRuntime: true,
  sourcemap: false,
  cleanupOutdatedCaches: true,
  skipWaiting: false,
  clientsClaim: false,
});
for (const warning of warnings) console.error(warning);
if (warnings.length) process.exit(1);
console.log(JSON.stringify({ count, size }));
