import { render } from "preact";
import { useEffect } from "preact/hooks";
import { loadCore } from "./core/core";
import { followAddress, openAgain, opening } from "./state/jobs";
import { currentJob, currentStage } from "./state/route";
import { openJob, redo, undo } from "./state/store";
import { Said } from "./parts/Said";
import { Tape } from "./parts/Tape";
import { Cost } from "./screens/Cost";
import { Jobs } from "./screens/Jobs";
import { Measure } from "./screens/Measure";
import { Panels } from "./screens/Panels";
import { Papers } from "./screens/Papers";
import { Roll } from "./screens/Roll";
import { words } from "./words/en";
import "./style/page.css";

const screens = { measure: Measure, panels: Panels, roll: Roll, cost: Cost, papers: Papers };

/// Undo and redo everywhere, except inside a field, where they are the browser's own.
function keys(event: KeyboardEvent): void {
  const inField = event.target instanceof HTMLElement && event.target.closest("input, textarea, select");
  if (inField || !(event.ctrlKey || event.metaKey)) return;
  const key = event.key.toLowerCase();
  if (key === "z" && !event.shiftKey) undo();
  else if (key === "y" || (key === "z" && event.shiftKey)) redo();
  else return;
  event.preventDefault();
}

function Page() {
  const job = openJob.value;
  const stage = currentStage.value;
  useEffect(() => {
    document.title = job ? `${job.said.title || words.untitled} · ${words.stages[stage]} · ${words.program}` : words.program;
  }, [job, stage]);
  useEffect(() => {
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, []);
  const Screen = screens[stage];
  return (
    <>
      <a class="skip" href="#content" onClick={(e) => {
          e.preventDefault();
          const content = document.getElementById("content");
          content?.setAttribute("tabindex", "-1");
          content?.focus();
        }}>
        {words.skip}
      </a>
      {!currentJob.value && <Jobs />}
      {currentJob.value && job && (
        <>
          <Tape />
          <Screen />
        </>
      )}
      {currentJob.value && !job && (
        <main class="sheet stack" id="content">
          {opening.value === "away" && (
            <>
              <h1>{words.noMachine}</h1>
              <button onClick={openAgain}>{words.tryAgain}</button>
            </>
          )}
          {opening.value === "none" && <h1>{words.noSuchJob}</h1>}
          <a href="#/">{words.allJobs}</a>
        </main>
      )}
      <Said />
    </>
  );
}

async function start(): Promise<void> {
  const page = document.getElementById("page");
  if (!page) return;
  try {
    await loadCore();
  } catch {
    page.textContent = "The core of Spile could not be loaded. Reload the page; if that does not help, start Spile again.";
    return;
  }
  followAddress();
  render(<Page />, page);
}
void start();
