// The history of a job's document: every change kept, any two compared, any one brought back.
import { useMemo, useState } from "preact/hooks";
import { core } from "../core/core";
import type { Derived, Edit } from "../core/answers";
import { book, type RevisionHead } from "../shop/book";
import { useAsked } from "../state/asked";
import { act, derived, openJob, tell } from "../state/store";
import { Away } from "../parts/Form";
import { moment } from "../parts/dates";
import { Prose } from "../parts/Text";
import { bookWords as say } from "../words/en_book";

export function History({ id, rev }: { id: string; rev: number }) {
  const [older, setOlder] = useState<RevisionHead[]>([]);
  const [chosen, setChosen] = useState<RevisionHead | null>(null);
  const first = useAsked(() => book.revisions(id, 0), [id, rev]);
  const newest = first.answer ?? [];
  const all = [...newest, ...older.filter((r) => !newest.some((n) => n.rev === r.rev))];
  const last = all.at(-1)?.rev ?? 1;
  return (
    <section class="stack" aria-labelledby="history">
      <h2 id="history">{say.history}</h2>
      <p class="hint">{say.historyHelp}</p>
      <Away asked={first} />
      <ol class="revisions">
        {all.map((r) => (
          <li key={r.rev}>
            <button aria-pressed={chosen?.rev === r.rev} onClick={() => setChosen(chosen?.rev === r.rev ? null : r)}>
              <span class="rev">{r.rev}</span>
              <span>
                <Prose text={r.why} />
              </span>
              <span class="quiet small">{`${moment(r.at)}${r.by ? ` · ${r.by}` : ""}`}</span>
            </button>
            {chosen?.rev === r.rev && <Compare id={id} rev={r.rev} newest={r.rev === all[0]?.rev} />}
          </li>
        ))}
      </ol>
      {last > 1 && all.length > 0 && (
        <button class="plain" onClick={() => void book.revisions(id, last).then((more) => setOlder([...older, ...more]), () => undefined)}>
          {say.older}
        </button>
      )}
    </section>
  );
}

const nameOf = (value: unknown): string => {
  if (value === null || typeof value !== "object") return String(value);
  const thing = value as Record<string, unknown>;
  for (const key of ["line", "name", "title", "id", "at"]) if (typeof thing[key] === "string") return String(thing[key]);
  return Array.isArray(value) && value.every((v) => typeof v !== "object") ? value.join(" ") : say.allOfIt;
};

/// One edit as a sentence: where, what it was, what it is.
function inWords(e: Edit): { where: string; was: string; is: string } {
  const steps = e.target.split("/").filter(Boolean).map((s) => s.replace(/~1/g, "/").replace(/~0/g, "~"));
  const where = [...steps, e.field === "@order" ? say.order : e.field].filter(Boolean).join(" › ");
  return {
    where: where.replace(/_/g, " "),
    was: e.old === undefined ? say.notThere : nameOf(e.old),
    is: e.new === undefined ? say.takenOut : nameOf(e.new),
  };
}

/// What a layout consists of is for machines; that it is another one is for people.
function inSentences(edits: Edit[]): { where: string; was: string; is: string }[] {
  const ofLayout = (e: Edit) => e.target.startsWith("/kept_layout") || e.field === "kept_layout";
  const layout = edits.filter(ofLayout);
  const rest = edits.filter((e) => !ofLayout(e)).map(inWords);
  if (layout.length === 0) return rest;
  const came = layout.every((e) => e.old === undefined);
  const went = layout.every((e) => e.new === undefined);
  return [...rest, { where: say.layoutKept, was: came ? say.notThere : say.another, is: went ? say.takenOut : came ? say.isKept : say.another }];
}

const mostShown = 40;

function Compare({ id, rev, newest }: { id: string; rev: number; newest: boolean }) {
  const job = openJob.value;
  const then = useAsked(() => book.revision(id, rev), [id, rev]);
  const text = then.answer;
  const between = useMemo(() => (text && job ? core.between(text, job.text) : null), [text, job?.text]);
  if (!job || !text) return <Away asked={then} />;
  const edits = between?.ok ? inSentences(between.edits) : [];
  const restore = () => {
    const back = core.between(job.text, text);
    if (!back.ok) return tell(back.findings[0]?.says ?? "", true);
    if (act(say.restoredName(rev), back.edits)) tell(say.restored(rev));
  };
  return (
    <div class="card stack compare">
      {edits.length === 0 ? (
        <p class="settled">{newest ? say.thisIsNow : say.sameAsNow}</p>
      ) : (
        <>
          <p>{say.changedSince(edits.length)}</p>
          <Shapes then={text} />
          <ul class="changes">
            {edits.slice(0, mostShown).map((w) => (
              <li key={w.where + w.is}>
                <span class="quiet small">{w.where}</span>
                <span>
                  <s>
                    <Prose text={w.was} />
                  </s>{" "}
                  →{" "}
                  <b>
                    <Prose text={w.is} />
                  </b>
                </span>
              </li>
            ))}
          </ul>
          {edits.length > mostShown && <p class="quiet">{say.andMore(edits.length - mostShown)}</p>}
          <button onClick={restore}>{say.bringBack(rev)}</button>
          <p class="hint">{say.bringBackHelp}</p>
        </>
      )}
    </div>
  );
}

/// The panels of then, dashed, over those of now: both as the core draws them.
function Shapes({ then }: { then: string }) {
  const before = useMemo<Derived | null>(() => {
    const answer = core.derive(then, null);
    return answer.ok ? answer : null;
  }, [then]);
  const box = derived.value.spaces[0]?.survey?.box ?? before?.spaces[0]?.survey?.box;
  if (!before || !box) return null;
  const pad = box[2] * 0.04;
  return (
    <figure>
      <svg class="then-now" viewBox={`${box[0] - pad} ${box[1] - pad} ${box[2] + 2 * pad} ${box[3] + 2 * pad}`} role="img" aria-label={say.thenAndNow}>
        {derived.value.panels.map((p) => (
          <path key={p.id} d={p.net} fill="var(--goods)" stroke="var(--ink)" stroke-width="1.6" />
        ))}
        {before.panels.map((p) => (
          <path key={p.id} d={p.net} fill="none" stroke="var(--signal)" stroke-width="2" stroke-dasharray="6 4" />
        ))}
      </svg>
      <figcaption class="hint">{say.thenAndNow}</figcaption>
    </figure>
  );
}
