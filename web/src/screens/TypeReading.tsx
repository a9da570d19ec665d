// The line into which a reading is typed. What is understood is shown before Enter, on the drawing too.
import { signal } from "@preact/signals";
import { useEffect, useId, useLayoutEffect, useRef } from "preact/hooks";
import { core } from "../core/core";
import type { Edit, Units } from "../core/answers";
import { act, openJob, preview } from "../state/store";
import { step } from "../state/places";
import { Prose } from "../parts/Text";
import { words } from "../words/en";

/// What stands in the line; other places may put something there.
export const typed = signal("");
export const focusLine = signal(0);

/// Ids of this page's readings end in this, so that two pages never make the same.
const salt = "-" + (crypto.getRandomValues(new Uint16Array(1))[0] ?? 0).toString(36);

const asEdits = (space: string, id: string, line: string): Edit[] => [
  { target: `/spaces/${step(space)}/ties/${id}`, field: "", new: { id, line } },
];

function editsFor(space: string, line: string): Edit[] | null {
  const job = openJob.value;
  if (!job) return null;
  const free = core.freeId(job.text, `/spaces/${step(space)}/ties`, "t", salt);
  return free.ok ? asEdits(space, free.id, line) : null;
}

/// No reading has this id while it is only typed.
const typedId = `typed${salt}`;

const padKeys = ["1", "2", "3", "1/4", "1/8", "4", "5", "6", "1/2", "1/16", "7", "8", "9", "3/4", "3/8", ".", "0", "/", "5/8", "7/8"];

function press(key: string): void {
  const before = typed.value;
  const needsSpace = key.includes("/") && key.length > 1 && /\d$/.test(before);
  typed.value = before + (needsSpace ? " " : "") + key;
}

/// Made once: it does not change with what is typed.
const pad = (
  <div class="pad" role="group" aria-label={words.typeReading}>
    {padKeys.map((key) => (
      <button type="button" key={key} onClick={() => press(key)}>
        <Prose text={key} />
      </button>
    ))}
    <button type="button" style={{ gridColumn: "span 2" }} onClick={() => press(" ")}>
      {words.space.toLowerCase()}
    </button>
    <button type="button" aria-label={words.erase} onClick={() => (typed.value = typed.value.slice(0, -1))}>
      ←
    </button>
    <button type="submit" class="strong" style={{ gridColumn: "span 2" }}>
      {words.enter}
    </button>
  </div>
);

/// `space` and `units`: of the space that is taped.
export function TypeReading({ space, units }: { space: string; units: Units }) {
  const id = useId();
  const input = useRef<HTMLInputElement>(null);
  const line = typed.value.trim();
  const read = line ? core.readReading(line, units) : null;
  const again = read?.ok ? read.reading.points.join(" ") : "";

  // The letter is on the screen first, the shape in the frame behind it; who types on does not wait for the shape.
  useLayoutEffect(() => {
    if (!read?.ok) {
      preview.value = null;
      return;
    }
    let after: ReturnType<typeof setTimeout> | undefined;
    const frame = requestAnimationFrame(() => {
      after = setTimeout(() => (preview.value = asEdits(space, typedId, line)), 0);
    });
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(after);
    };
  }, [line, space, openJob.value?.text, again]);
  useEffect(() => () => void (preview.value = null), [space]);

  useEffect(() => {
    if (focusLine.value === 0) return;
    input.current?.focus();
    const end = typed.peek().length;
    input.current?.setSelectionRange(end, end);
  }, [focusLine.value]);

  const enter = (event?: Event) => {
    event?.preventDefault();
    if (!read?.ok) return;
    const edits = editsFor(space, line);
    if (edits && act(words.readingTaken(line), edits)) typed.value = "";
    input.current?.focus();
  };
  const fault = read && !read.ok ? read.findings[0] : undefined;
  return (
    <form class="type" onSubmit={enter}>
      <label for={id}>{words.typeReading}</label>
      <div class="type-field">
        <input
          id={id}
          ref={input}
          value={typed.value}
          placeholder={words.typeExample}
          autocomplete="off"
          autocapitalize="characters"
          spellcheck={false}
          enterkeyhint="enter"
          aria-describedby={`${id}h`}
          onInput={(e) => (typed.value = e.currentTarget.value)}
          onKeyDown={(e) => {
            if (e.key === "Escape") typed.value = "";
          }}
        />
        <span aria-hidden="true">{units === "in" ? words.inches : words.millimetres}</span>
      </div>
      <p class="hint" id={`${id}h`} aria-live="polite">
        {!read && words.typeHelp}
        {read?.ok && (
          <span class="settled">
            <Prose text={`${read.reading.points.join(" – ")}  ${read.reading.lengths.map((l) => l.text).join(", ")} ${units}`} />
          </span>
        )}
        {fault && <Prose text={`${fault.says} ${fault.to_do}`} />}
      </p>
      {pad}
      <details>
        <summary>{words.moreKinds}</summary>
        <ul class="list small">
          {words.kinds.map(([example, what]) => (
            <li key={example}>
              <b>
                <Prose text={example} />
              </b>
              <br />
              {what}
            </li>
          ))}
        </ul>
      </details>
    </form>
  );
}
