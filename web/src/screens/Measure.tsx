// Measure: a reading a line, the shape grows, the reading that cannot be right is named.
import { signal } from "@preact/signals";
import { useEffect } from "preact/hooks";
import type { Finding, Space } from "../core/answers";
import { act, chosen, drawnSpaces, openJob } from "../state/store";
import { spaceOf, stageOf, step } from "../state/places";
import { Field } from "../parts/Field";
import { Needs } from "../parts/Needs";
import { Prose } from "../parts/Text";
import { words } from "../words/en";
import { setField } from "./AtPanel";
import { Lesson } from "./Lesson";
import { Readings } from "./Readings";
import { Ready } from "./Ready";
import { SpaceDrawing } from "./SpaceDrawing";
import { TypeReading } from "./TypeReading";

export const currentSpace = signal("");

const seenToHere = (f: Finding): boolean => stageOf(f) === "measure" || f.subject.kind === "job";

const split = (typed: string): string[] => typed.split(/[\s,]+/).filter(Boolean);

export function Measure() {
  const job = openJob.value;
  const all = drawnSpaces.value;
  const picked = chosen.value;
  useEffect(() => {
    if (picked && ["point", "tie", "space"].includes(picked.kind)) currentSpace.value = spaceOf(picked.id);
  }, [picked]);
  if (!job) return null;
  const space = all.find((s) => s.id === currentSpace.value) ?? all[0];
  if (!space) return <FirstSpace />;
  return (
    <>
      <Lesson />
      <main class="bench" id="content">
        <section class="side left" aria-label={words.stages.measure}>
          {all.length > 1 && <SpaceChoice all={all} now={space.id} />}
          <TypeReading space={space.id} units={space.units} />
          <Readings space={space} />
          <Settings id={space.id} walk={space.walk} bow={space.bow} />
        </section>
        <section class="middle" aria-label={words.asList}>
          {space.survey ? <SpaceDrawing space={space} /> : <NotYet />}
        </section>
        <aside class="side right wide-stack" tabIndex={0} aria-label={words.needsYou}>
          <Needs only={seenToHere} />
          {space.survey && <Ready space={space} />}
          {space.survey && space.survey.advice.length > 0 && (
            <section class="stack" aria-labelledby="helps">
              <h2 id="helps">{words.helpsMost}</h2>
              <ul class="list">
                {space.survey.advice.map((sentence) => (
                  <li class="card" key={sentence}>
                    <Prose text={sentence} />
                  </li>
                ))}
              </ul>
            </section>
          )}
        </aside>
      </main>
    </>
  );
}

function SpaceChoice({ all, now }: { all: Space[]; now: string }) {
  return (
    <label style={{ marginBottom: "14px" }}>
      {words.space}
      <select value={now} onChange={(e) => (currentSpace.value = e.currentTarget.value)}>
        {all.map((s) => (
          <option key={s.id} value={s.id}>
            {s.id}
          </option>
        ))}
      </select>
    </label>
  );
}

function Settings({ id, walk, bow }: Pick<Space, "id" | "walk" | "bow">) {
  const target = `/spaces/${step(id)}`;
  const set = (field: "walk" | "bow", name: string, was: string[], typed: string) => {
    const now = split(typed);
    act(`${name}: ${typed || words.nothingThere}`, [
      { target, field, ...(was.length ? { old: was } : {}), ...(now.length ? { new: now } : {}) },
    ]);
  };
  return (
    <div class="stack" style={{ marginTop: "20px" }}>
      <Field
        label={words.walk}
        value={walk.join(" ")}
        help={words.walkHelp}
        example={words.walkExample}
        onTake={(typed) => set("walk", words.setWalk, walk, typed)}
      />
      <Field
        label={words.towardsBow}
        value={bow.join(" ")}
        help={words.towardsBowHelp}
        example={words.bowExample}
        wrong={(typed) => (typed === "" || split(typed).length === 2 ? "" : words.towardsBowHelp)}
        onTake={(typed) => set("bow", words.setBow, bow, typed)}
      />
      <details>
        <summary>{words.aboutJob}</summary>
        <AboutJob />
      </details>
      <details>
        <summary>{words.addSpace}</summary>
        <NewSpace />
      </details>
    </div>
  );
}

function AboutJob() {
  const said = openJob.value?.said;
  if (!said) return null;
  const field = (key: "title" | "boat" | "customer" | "notes", label: string) => (
    <Field
      label={label}
      value={said[key] ?? ""}
      onTake={(typed) => setField(`${label}: ${typed}`, "", key, said[key], typed)}
    />
  );
  return (
    <div class="stack">
      {field("title", words.jobTitle)}
      {field("boat", words.jobBoat)}
      {field("customer", words.jobCustomer)}
      {field("notes", words.jobNotes)}
    </div>
  );
}

function NewSpace() {
  return (
    <Field
      label={words.spaceName}
      value=""
      help={words.spaceNames}
      onTake={(name) => {
        const added = act(words.spaceAdded(name), [{ target: `/spaces/${step(name)}`, field: "", new: { id: name } }]);
        if (added) currentSpace.value = name;
      }}
    />
  );
}

function Steps() {
  return (
    <>
      <h2>{words.emptyMeasure}</h2>
      <ol class="stack" style={{ marginTop: "14px", maxWidth: "36rem" }}>
        {words.emptySteps.map((text, i) => (
          <li class="row" style={{ flexWrap: "nowrap", alignItems: "flex-start" }} key={text}>
            <span class="lead" style={{ minWidth: "1.6em", lineHeight: 1 }}>
              {i + 1}
            </span>
            <span>
              <Prose text={text} />
            </span>
          </li>
        ))}
      </ol>
    </>
  );
}

function NotYet() {
  return (
    <div class="side">
      <Steps />
    </div>
  );
}

function FirstSpace() {
  const start = (event: Event) => {
    event.preventDefault();
    const name = String(new FormData(event.currentTarget as HTMLFormElement).get("name") ?? "").trim();
    if (name && act(words.spaceAdded(name), [{ target: `/spaces/${step(name)}`, field: "", new: { id: name } }])) currentSpace.value = name;
  };
  return (
    <main class="sheet wide-stack" id="content">
      <Steps />
      <form class="stack" style={{ maxWidth: "26rem" }} onSubmit={start}>
        <label>
          {words.spaceName}
          <input name="name" required maxLength={40} defaultValue="cockpit" autocomplete="off" />
        </label>
        <p class="hint">{words.spaceNames}</p>
        <button class="strong" type="submit">
          {words.firstSpace}
        </button>
      </form>
    </main>
  );
}
