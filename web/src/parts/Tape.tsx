// The way of the job, drawn as a tape across the top; under it undo, units and light.
import { openJob, derived, history, light, redo, shownUnits, undo, units } from "../state/store";
import { connection, retryAfterRefusal, waiting, whyRefused } from "../state/line";
import { addressOf, currentStage, stages } from "../state/route";
import { words } from "../words/en";
import { bookWords } from "../words/en_book";

const marks = { open: "", done: " ✓", stopped: " !" } as const;

export function Tape() {
  const job = openJob.value;
  if (!job) return null;
  const said = job.said;
  const here = currentStage.value;
  const states = derived.value.stages;
  const mine = states.find((s) => s.stage === here);
  return (
    <>
      <header class="tape">
        <div class="tape-job">
          <a href={addressOf(job.id, "about")} aria-current={here === "about" ? "page" : undefined}>
            <h1>{said.title || words.untitled}</h1>
            <p>{said.boat || bookWords.aboutJob}</p>
          </a>
        </div>
        <nav aria-label={words.wayOfTheJob}>
          <ol>
            {stages.map((stage) => {
              const state = states.find((s) => s.stage === stage);
              return (
                <li key={stage}>
                  <a
                    class={`stage ${state?.state ?? "open"}`}
                    href={addressOf(job.id, stage)}
                    aria-current={stage === here ? "step" : undefined}
                  >
                    <b>
                      {words.stages[stage]}
                      <i aria-hidden="true">{state ? marks[state.state] : ""}</i>
                    </b>
                    <span>{state?.says ?? ""}</span>
                  </a>
                </li>
              );
            })}
          </ol>
        </nav>
        {mine && (
          <p class="tape-line" aria-hidden="true">
            {mine.says}
            {marks[mine.state]}
          </p>
        )}
      </header>
      <div class="band">
        <a class="button home" href="#/">
          {words.allJobs}
        </a>
        <Steps />
        <Connection />
        <span class="room" />
        <View />
      </div>
    </>
  );
}

function Steps() {
  const done = history.value.done.at(-1);
  const undone = history.value.undone.at(-1);
  return (
    <span class="row">
      <button disabled={!done} onClick={undo} title={done ? words.undoNamed(done.name) : words.nothingToUndo}>
        {words.undo}
      </button>
      <button disabled={!undone} onClick={redo} title={undone ? words.redoNamed(undone.name) : words.nothingToRedo}>
        {words.redo}
      </button>
    </span>
  );
}

function Connection() {
  const state = connection.value;
  return (
    <span class={`state-dot ${state}`} role="status">
      {state === "kept" && words.kept}
      {state === "keeping" && words.keeping}
      {state === "away" && words.away(waiting.value)}
      {state === "refused" && (
        <>
          {words.refused} {whyRefused.value}{" "}
          <button class="plain" onClick={retryAfterRefusal}>
            {words.lookAgain}
          </button>
        </>
      )}
    </span>
  );
}

/// Units and light: of this screen, not of the job.
export function View() {
  return (
    <>
      <span class="segments" role="group" aria-label={words.shownIn}>
        <button aria-pressed={units.value === "in"} onClick={() => (shownUnits.value = "in")}>
          {words.inches}
        </button>
        <button aria-pressed={units.value === "mm"} onClick={() => (shownUnits.value = "mm")}>
          {words.millimetres}
        </button>
      </span>
      <span class="segments light" role="group" aria-label={words.lightLabel}>
        {(["light", "dark"] as const).map((l) => (
          <button key={l} aria-pressed={light.value === l} onClick={() => (light.value = light.value === l ? "auto" : l)}>
            {words.light[l]}
          </button>
        ))}
      </span>
    </>
  );
}
