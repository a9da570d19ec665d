// Before leaving the boat: what is settled, what is open, and what a person left open and why; that stands on the papers.
import type { ComponentChildren } from "preact";
import { useEffect, useRef, useState } from "preact/hooks";
import type { Space } from "../core/answers";
import { act, openJob } from "../state/store";
import { step } from "../state/places";
import { Prose } from "../parts/Text";
import { words } from "../words/en";

/// What a line of the list is called by: the words before its colon.
const called = (line: string): string => line.slice(0, Math.max(0, line.indexOf(":")));

function Tick({ what, yes, children }: { what: string; yes: boolean; children?: ComponentChildren }) {
  return (
    <>
      <span class={`tick${yes ? " yes" : ""}`} role="img" aria-label={yes ? "done" : "open"}>
        {yes ? "✓" : ""}
      </span>
      <div>
        <span class={yes ? "quiet" : ""}>
          <Prose text={what} />
        </span>
        {children}
      </div>
    </>
  );
}

function Answer({ line, onAnswer, onClose }: { line: string; onAnswer: (because: string) => void; onClose: () => void }) {
  const [because, setBecause] = useState("");
  const field = useRef<HTMLInputElement>(null);
  useEffect(() => field.current?.focus(), []);
  const clean = because.trim();
  return (
    <form
      class="stack"
      aria-label={words.answerLine(line)}
      onSubmit={(e) => {
        e.preventDefault();
        if (clean) onAnswer(clean);
      }}
      onKeyDown={(e) => e.key === "Escape" && onClose()}
    >
      <label>
        {words.leftOpenBecause}
        <input ref={field} value={because} maxLength={200} autocomplete="off" onInput={(e) => setBecause(e.currentTarget.value)} />
      </label>
      <div class="row">
        <button type="submit" disabled={!clean}>
          {words.leaveOpen}
        </button>
        <button type="button" onClick={() => onAnswer(words.notAboard)}>
          {words.sayNotAboard}
        </button>
      </div>
    </form>
  );
}

export function Ready({ space }: { space: Space }) {
  const [answering, setAnswering] = useState("");
  const survey = space.survey;
  if (!survey) return null;
  const leaving = openJob.value?.said.spaces?.find((s) => s.id === space.id)?.leaving ?? [];
  const unchecked = space.readings.some(
    (r) => r.kind === "tie" && r.parts.some((p) => p.smallest_slip_mm === null),
  );
  const ticks: [string, boolean][] = [
    [words.cannotMove, survey.fixed],
    [words.noneDisagrees, survey.suspects.length === 0],
    [words.allChecked, !unchecked],
  ];
  const say = (name: string, now: typeof leaving) => {
    setAnswering("");
    act(name, [
      {
        target: `/spaces/${step(space.id)}`,
        field: "leaving",
        ...(leaving.length ? { old: leaving } : {}),
        ...(now.length ? { new: now } : {}),
      },
    ]);
  };
  return (
    <section aria-labelledby="leaving">
      <h2 id="leaving">{words.beforeLeaving}</h2>
      <p class={survey.fixed && survey.suspects.length === 0 ? "settled" : ""} style={{ margin: "8px 0" }}>
        <Prose text={survey.verdict} />
      </p>
      <ul class="ticks">
        {ticks.map(([what, yes]) => (
          <li key={what}>
            <Tick what={what} yes={yes} />
          </li>
        ))}
        {survey.missing.map((what) => {
          const line = called(what);
          return (
            <li key={what}>
              <Tick what={what} yes={false}>
                {line && answering !== line && (
                  <button class="plain" aria-label={words.answerLine(line)} onClick={() => setAnswering(line)}>
                    {words.answer}
                  </button>
                )}
                {line && answering === line && (
                  <Answer
                    line={line}
                    onAnswer={(because) => say(`${line}: ${because}`, [...leaving, { line, because }])}
                    onClose={() => setAnswering("")}
                  />
                )}
              </Tick>
            </li>
          );
        })}
      </ul>
      {leaving.length > 0 && (
        <>
          <h3 style={{ marginTop: "14px" }}>{words.leftOpen}</h3>
          <ul class="list">
            {leaving.map(({ line, because }) => (
              <li class="row" key={line}>
                <span>
                  <Prose text={`${line}: ${because}`} />
                </span>
                <button
                  class="plain"
                  aria-label={words.takeBackLine(line)}
                  onClick={() => say(words.takeBackLine(line), leaving.filter((other) => other.line !== line))}
                >
                  {words.takeBack}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
    </section>
  );
}
