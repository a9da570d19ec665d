// One sentence about what has just happened, said aloud and shown for a while.
import { useEffect } from "preact/hooks";
import { said } from "../state/store";
import { words } from "../words/en";
import { Prose } from "./Text";

const shown_ms = 7000;

export function Said() {
  const now = said.value;
  useEffect(() => {
    if (!now || now.bad) return;
    const timer = setTimeout(() => (said.value = null), shown_ms);
    return () => clearTimeout(timer);
  }, [now]);
  return (
    <div role="status" aria-live="polite">
      {now && (
        <div class={`said${now.bad ? " bad" : ""}`}>
          <span>
            <Prose text={now.text} />
          </span>
          <button onClick={() => (said.value = null)}>{words.close}</button>
        </div>
      )}
    </div>
  );
}
