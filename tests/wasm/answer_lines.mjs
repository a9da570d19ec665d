// The same in node: node answer_lines.mjs FOLDER_OF_SPILE_CORE SPILE_JS
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { createInterface } from "node:readline";
import { pathToFileURL } from "node:url";

const [folder, glue] = process.argv.slice(2);
// What the module of emscripten 3.1.6 looks for in node and modules of the language do not have.
globalThis.__dirname = folder;
globalThis.require = createRequire(import.meta.url);
const { default: makeModule } = await import(pathToFileURL(`${folder}/spile_core.mjs`));
const { loadCore } = await import(pathToFileURL(glue));
const core = await loadCore(makeModule, { wasmBinary: readFileSync(`${folder}/spile_core.wasm`) });
const times = [];
for await (const line of createInterface({ input: process.stdin })) {
  const { do: name, ...question } = JSON.parse(line);
  const begun = performance.now();
  const answer = core.ask(name, question);
  times.push({ name, ms: performance.now() - begun });
  process.stdout.write(JSON.stringify(answer) + "\n");
}
const derive = times.filter((t) => t.name === "derive").map((t) => t.ms).sort((a, b) => a - b);
process.stderr.write(`derive: median ${derive[derive.length >> 1].toFixed(1)} ms, most ${derive.at(-1).toFixed(1)} ms\n`);
