// The core in the browser, with the types of every question.
import type { Questions } from "./types/surface";

export interface Core {
  /** Never throws for what a person typed: what is wrong comes back as findings, with `ok` false. */
  ask<Name extends keyof Questions>(name: Name, question: Questions[Name]["ask"]): Questions[Name]["answer"];
}

/** `makeModule`: the default export of spile_core.mjs. `locateFile` tells where spile_core.wasm is served from. */
export function loadCore(
  makeModule: (options: object) => Promise<unknown>,
  options?: { locateFile?: (file: string) => string; wasmBinary?: ArrayBuffer },
): Promise<Core>;
