// The door: the shop's jobs, the example to break, and three questions that start one's own.
import { useEffect, useState } from "preact/hooks";
import example from "../../../examples/cockpit.json?raw";
import type { Units } from "../core/answers";
import { shop, type JobHead } from "../shop/shop";
import { begin, beginOwn } from "../state/jobs";
import { bookChanged } from "../state/news";
import { addressOf, stages } from "../state/route";
import { book } from "../shop/book";
import { day, dayOf } from "../parts/dates";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { drawingRefused, FromDrawing, openDrawing, takeDrawing } from "./FromDrawing";
import { showLesson } from "./Lesson";
import { Telephone } from "./Telephone";

const searchFrom = 8;

export function Jobs() {
  const drawing = openDrawing.value;
  return drawing ? <FromDrawing drawing={drawing} /> : <Door />;
}

function Door() {
  const [jobs, setJobs] = useState<JobHead[] | null>(null);
  const [away, setAway] = useState(false);
  const [text, setText] = useState("");
  const [state, setState] = useState("");
  const [asked, setAsked] = useState(0);
  const [many, setMany] = useState(false);
  useEffect(() => {
    let gone = false;
    shop
      .jobs(text, state)
      .then((answer) => {
        if (gone) return;
        setJobs(answer.jobs);
        setAway(false);
        if (answer.count >= searchFrom) setMany(true);
      })
      .catch(() => !gone && setAway(true));
    return () => {
      gone = true;
    };
  }, [text, state, asked, bookChanged.value]);
  return (
    <>
      <main class="sheet wide-stack" id="content">
        <header>
          <h1 class="lead">{words.welcome}</h1>
          <p style={{ marginTop: "6px" }}>{words.welcomeMore}</p>
        </header>
        <div class="door">
          <section class="stack" aria-labelledby="jobs">
            <h2 id="jobs">{words.yourJobs}</h2>
            {many && (
              <div class="row find">
                <input type="search" aria-label={say.findJob} placeholder={say.findJob} value={text} onInput={(e) => setText(e.currentTarget.value)} />
                <select aria-label={say.inState} value={state} onChange={(e) => setState(e.currentTarget.value)}>
                  <option value="">{say.allStates}</option>
                  {Object.entries(say.states).map(([key, name]) => (
                    <option value={key} key={key}>
                      {name}
                    </option>
                  ))}
                </select>
              </div>
            )}
            {away && (
              <div class="finding stop">
                <p>{words.noMachine}</p>
                <button onClick={() => setAsked(asked + 1)}>{words.tryAgain}</button>
              </div>
            )}
            {jobs?.length === 0 && !text && !state && <p class="quiet">{words.noJobs}</p>}
            <ul class="jobs">
              {jobs?.map((j) => (
                <li key={j.id}>
                  <a href={addressOf(String(j.id), "measure")}>
                    <b>{j.title || words.untitled}</b>
                    <span class="quiet small">{j.promised ? say.promisedFor(dayOf(j.promised)) : day(j.changed)}</span>
                    <span class="quiet">{j.boat}</span>
                    <span class={`small${j.unchecked ? " unchecked-job" : ""}`}>{j.unchecked ? say.uncheckedShort : say.states[j.state]}</span>
                  </a>
                </li>
              ))}
            </ul>
            <OpenOther />
          </section>
          <div class="stack">
            <OwnJob />
            <Telephone />
          </div>
        </div>
        <ol class="way" aria-label={words.wayOfTheJob}>
          {stages.map((stage) => (
            <li key={stage}>
              <b>{words.stages[stage]}</b>
              <p class="small quiet">{words.stageSays[stage]}</p>
            </li>
          ))}
        </ol>
      </main>
    </>
  );
}

function OpenOther() {
  const openExample = async () => {
    showLesson();
    await begin(example);
  };
  const openFile = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = "";
    if (file) await begin(await file.text());
  };
  const openElsewhere = async (input: HTMLInputElement) => {
    const file = input.files?.[0];
    input.value = "";
    if (file) await takeDrawing(file);
  };
  return (
    <div class="stack">
      <div class="row">
        <button onClick={() => void openExample()}>{words.openExample}</button>
        <label class="button" style={{ position: "relative" }}>
          {words.openFile}
          <input class="unseen" type="file" accept=".json,application/json" onChange={(e) => void openFile(e.currentTarget)} />
        </label>
        <label class="button" style={{ position: "relative" }}>
          {words.openDrawing}
          <input class="unseen" type="file" accept=".dxf,.svg,.csv,.txt" onChange={(e) => void openElsewhere(e.currentTarget)} />
        </label>
      </div>
      {drawingRefused.value && (
        <p class="hint bad" role="alert">
          {drawingRefused.value}
        </p>
      )}
      <p class="hint">{words.exampleHelp}</p>
    </div>
  );
}

function OwnJob() {
  const [units, setUnits] = useState<Units>("in");
  useEffect(() => {
    book.settings().then(
      (settings) => settings.paper?.units && setUnits(settings.paper.units),
      () => undefined,
    );
  }, []);
  const start = (event: Event) => {
    event.preventDefault();
    const form = new FormData(event.currentTarget as HTMLFormElement);
    void beginOwn(String(form.get("title") ?? "").trim(), String(form.get("boat") ?? "").trim(), units);
  };
  return (
    <section class="card" aria-labelledby="own" style={{ padding: "22px" }}>
      <form class="stack" onSubmit={start}>
        <h2 id="own">{words.startOwn}</h2>
        <label>
          {words.question1}
          <input name="title" required maxLength={200} placeholder={words.question1Example} autocomplete="off" />
        </label>
        <label>
          {words.question2}
          <input name="boat" maxLength={200} placeholder={words.question2Example} autocomplete="off" />
        </label>
        <fieldset>
          <legend>{words.question3}</legend>
          <div class="pair" style={{ marginTop: "6px" }}>
            {(["in", "mm"] as const).map((u) => (
              <label class="choice" key={u}>
                <input type="radio" name="units" checked={units === u} onChange={() => setUnits(u)} />
                <span>{words.units[u]}</span>
              </label>
            ))}
          </div>
        </fieldset>
        <button class="strong" type="submit">
          {words.begin}
        </button>
      </form>
    </section>
  );
}
