// Papers: every sheet as it will print, and the files to take away.
import { useEffect, useMemo, useState } from "preact/hooks";
import { core } from "../core/core";
import type { GivenLayout, Placement } from "../core/answers";
import { connection } from "../state/line";
import { fillers, openJob, triedLayout } from "../state/store";
import { shop, type Paper } from "../shop/shop";
import { Dialog } from "../parts/Dialog";
import { Needs } from "../parts/Needs";
import { LengthField } from "../parts/Field";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { setField, text } from "./AtPanel";

interface Shown {
  stem: string;
  title: string;
  purpose: string;
  page: number;
  of: number;
}

/// The page as a picture: whatever a job's words hold, nothing in it runs.
function usePage(shown: Shown): string {
  const job = openJob.value;
  const layout = triedLayout.value;
  const text = job?.text ?? "";
  const address = useMemo(() => {
    const answer = core.page(text, shown.stem, shown.page, layout, fillers.value);
    return answer.ok ? URL.createObjectURL(new Blob([answer.svg], { type: "image/svg+xml" })) : "";
  }, [text, layout, fillers.value, shown.stem, shown.page]);
  useEffect(() => () => URL.revokeObjectURL(address), [address]);
  return address;
}

/// Drawing all sheets takes a moment: the screen is there before them.
function useSheets(text: string | null, layout: GivenLayout | null, beside: Placement[] | null) {
  const [answer, setAnswer] = useState<ReturnType<typeof core.sheets> | null>(null);
  useEffect(() => {
    if (text === null) return;
    let after: ReturnType<typeof setTimeout> | undefined;
    const frame = requestAnimationFrame(() => {
      after = setTimeout(() => setAnswer(core.sheets(text, layout, beside)), 0);
    });
    return () => {
      cancelAnimationFrame(frame);
      clearTimeout(after);
    };
  }, [text, layout, beside]);
  return answer;
}

export function Papers() {
  const job = openJob.value;
  const layout = triedLayout.value;
  const [large, setLarge] = useState<Shown | null>(null);
  const answer = useSheets(job?.text ?? null, layout, fillers.value);
  if (!job) return null;
  if (!answer?.ok)
    return (
      <main class="sheet" id="content" aria-busy="true">
        <h1>{words.drawingSheets}</h1>
      </main>
    );
  const pages = answer.sheets.flatMap((s) =>
    s.pages.map((_, i): Shown => ({ stem: s.stem, title: s.title, purpose: s.purpose, page: i + 1, of: s.pages.length })),
  );
  return (
    <main class="sheet wide-stack" id="content">
      {!answer.may_cut && (
        <section class="stack" style={{ maxWidth: "44rem" }}>
          <h1>{words.papersWait}</h1>
          <p class="quiet">{words.papersWaitHelp}</p>
          <Needs only={(f) => f.severity === "stop"} />
        </section>
      )}
      <p>
        <a class="button" href="#files" onClick={(e) => {
            e.preventDefault();
            document.getElementById("files")?.scrollIntoView();
          }}>
          {words.downloadAll} ↓
        </a>
      </p>
      <ul class="papers">
        {pages.map((p) => (
          <li key={p.stem + p.page}>
            <Sheet shown={p} onOpen={() => setLarge(p)} />
          </li>
        ))}
      </ul>
      <Files id={job.id} />
      {large && <Large shown={large} onClose={() => setLarge(null)} />}
    </main>
  );
}

function Sheet({ shown, onOpen }: { shown: Shown; onOpen: () => void }) {
  const address = usePage(shown);
  return (
    <figure class="stack">
      <button class="paper" onClick={onOpen}>
        <img src={address} alt={`${shown.title}, ${words.pageOf(shown.page, shown.of)}`} loading="lazy" />
      </button>
      <figcaption>
        <b>{shown.title}</b>
        {shown.of > 1 && <span class="quiet"> · {words.pageOf(shown.page, shown.of)}</span>}
        <br />
        <span class="quiet">{shown.purpose}</span>
      </figcaption>
    </figure>
  );
}

function Large({ shown, onClose }: { shown: Shown; onClose: () => void }) {
  const address = usePage(shown);
  return (
    <Dialog title={shown.title} onClose={onClose} large>
      <img src={address} alt={shown.title} style={{ width: "100%", background: "#fff", border: "1px solid var(--rule)" }} />
      <div class="row" style={{ marginTop: "12px" }}>
        <button onClick={onClose}>{words.close}</button>
      </div>
    </Dialog>
  );
}

/// How true the printer drew the last print; the files below are corrected by as much.
function PrintScale() {
  const papers = openJob.value?.said.papers;
  return (
    <div style={{ maxWidth: "26rem" }}>
      <LengthField
        label={say.ruleMeasures}
        value={text(papers?.rule_measured)}
        help={say.ruleHelp}
        example="199.4 mm"
        units="mm"
        mayBeEmpty
        onTake={(v) => setField(`${say.ruleMeasures}: ${v}`, "/papers", "rule_measured", papers?.rule_measured, v)}
      />
    </div>
  );
}

function Files({ id }: { id: string }) {
  const [papers, setPapers] = useState<Paper[] | null>(null);
  const jobText = openJob.value?.text;
  const kept = connection.value === "kept";
  useEffect(() => {
    let gone = false;
    if (kept)
      shop
        .papers(id)
        .then((answer) => !gone && setPapers(answer.papers))
        .catch(() => !gone && setPapers(null));
    return () => {
      gone = true;
    };
  }, [id, jobText, kept]);
  if (!papers || papers.length === 0) return null;
  return (
    <section class="stack" id="files">
      <h2>{words.downloadAll}</h2>
      <p class="quiet small">{words.atTrueSize}</p>
      <PrintScale />
      <ul class="papers" style={{ gap: "8px 26px" }}>
        {papers.map((p) => (
          <li key={p.name}>
            <a class="button" style={{ width: "100%", justifyContent: "flex-start", fontWeight: 400, textAlign: "left" }} href={shop.paperAddress(id, p.name)} target="_blank" rel="noopener">
              <span>
                <b>{p.title || p.name}</b> <span class="quiet small">{p.name}</span>
              </span>
            </a>
          </li>
        ))}
      </ul>
    </section>
  );
}
