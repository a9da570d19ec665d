// "What needs you": one list, worst first, in plain words; a tap shows the place.
import { useSignal } from "@preact/signals";
import { useState } from "preact/hooks";
import type { Finding } from "../core/answers";
import { core } from "../core/core";
import { choose, chosen, derived, entered, openJob, tell, triedLayout } from "../state/store";
import { currentStage, go } from "../state/route";
import { readingOf, stageOf } from "../state/places";
import { words } from "../words/en";
import { Dialog } from "./Dialog";
import { Prose } from "./Text";

function isChosen(f: Finding): boolean {
  const c = chosen.value;
  const job = openJob.value;
  if (!c || !job) return false;
  return (c.kind === f.subject.kind && c.id === f.subject.id) || (c.kind === "reading" && c.id === readingOf(f, job.said));
}

function show(f: Finding): void {
  const job = openJob.value;
  if (!job) return;
  const reading = readingOf(f, job.said);
  if (reading) choose("reading", reading);
  else choose(f.subject.kind, f.subject.id);
  const stage = stageOf(f);
  // A piece is seen on the panels too.
  if (stage && stage !== currentStage.value && !(f.subject.kind === "piece" && currentStage.value === "panels")) go(job.id, stage);
}

/// Let pass or not, there is no layout of such a piece.
const noLayout = ["layout-too-wide", "layout-too-long", "layout-no-area"];

export function Needs({ only }: { only?: (f: Finding) => boolean }) {
  const passing = useSignal<Finding | null>(null);
  const all = derived.value.findings;
  const list = only ? all.filter(only) : all;
  const twice = openJob.value?.said.unsettled ?? [];
  return (
    <section aria-labelledby="needs">
      <h2 id="needs">{words.needsYou}</h2>
      <div class="list" style={{ marginTop: "10px" }}>
        {twice.map((u) => (
          <SaidTwice key={u.id} id={u.id} other={u.other ?? null} />
        ))}
        {list.map((f) => (
          <div key={f.code + f.subject.id + f.says}>
            <button class={`finding ${f.severity}`} aria-pressed={isChosen(f)} onClick={() => show(f)}>
              <span class="kind">{words.severity[f.severity]}</span>
              <span class="says">
                <Prose text={f.says} />
              </span>
              <span class="to-do">
                <Prose text={f.to_do} />
              </span>
            </button>
            {f.severity === "stop" && isChosen(f) && !noLayout.includes(f.code) && (
              <button class="plain" onClick={() => (passing.value = f)}>
                {words.letPass}
              </button>
            )}
          </div>
        ))}
        {list.length === 0 && twice.length === 0 && <p class="settled">✓ {words.nothingNeedsYou}</p>}
        {derived.value.overridden.map((o) => (
          <div class="card" key={o.finding.code + o.finding.subject.id}>
            <p class="small quiet">{words.passed}</p>
            <p>
              <Prose text={o.finding.says} />
            </p>
            <p class="quiet">{o.reason}</p>
          </div>
        ))}
      </div>
      {passing.value && <LetPass finding={passing.value} onClose={() => (passing.value = null)} />}
    </section>
  );
}

function plain(value: string | null): string {
  if (value === null) return words.nothingThere;
  return value.replace(/^"|"$/g, "");
}

function SaidTwice({ id, other }: { id: string; other: string | null }) {
  const job = openJob.value;
  const settle = (takeOther: boolean) => {
    if (job) entered(words.saidTwice, job, core.settle(job.text, id, takeOther));
  };
  return (
    <div class="finding stop">
      <span class="kind">{words.saidTwice}</span>
      <div class="row" style={{ marginTop: "8px" }}>
        <button onClick={() => settle(false)}>{words.keepThis(words.whatStands)}</button>
        <button onClick={() => settle(true)}>
          <Prose text={words.takeThat(plain(other))} />
        </button>
      </div>
    </div>
  );
}

function LetPass({ finding, onClose }: { finding: Finding; onClose: () => void }) {
  const [reason, setReason] = useState("");
  const pass = (event: Event) => {
    event.preventDefault();
    const job = openJob.value;
    if (!job) return;
    const answer = core.letPass(job.text, finding.code, finding.subject.id, reason, triedLayout.value);
    if (!answer.ok) return tell(answer.findings[0]?.says ?? "", true);
    if (entered(`${words.passed}: ${finding.says}`, job, answer)) onClose();
  };
  return (
    <Dialog title={words.letPassTitle} onClose={onClose}>
      <form class="stack" onSubmit={pass}>
        <p>
          <Prose text={finding.says} />
        </p>
        <p class="quiet">{words.letPassWhy}</p>
        <label>
          {words.reason}
          <input value={reason} required maxLength={200} onInput={(e) => setReason(e.currentTarget.value)} />
        </label>
        <div class="row">
          <button class="signal" type="submit">
            {words.letPass}
          </button>
          <button type="button" onClick={onClose}>
            {words.cancel}
          </button>
        </div>
      </form>
    </Dialog>
  );
}
