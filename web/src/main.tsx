import { render } from "preact";
import { useEffect, useLayoutEffect } from "preact/hooks";
import { loadCore } from "./core/core";
import { followAddress, openAgain, opening } from "./state/jobs";
import { followFillers } from "./state/fillers";
import { followBook } from "./state/news";
import { currentJob, currentShop, currentStage } from "./state/route";
import { openJob, redo, undo } from "./state/store";
import { Said } from "./parts/Said";
import { ShopHead } from "./parts/ShopHead";
import { Tape } from "./parts/Tape";
import { About } from "./screens/About";
import { Cost } from "./screens/Cost";
import { Jobs } from "./screens/Jobs";
import { Measure } from "./screens/Measure";
import { Panels } from "./screens/Panels";
import { Papers } from "./screens/Papers";
import { Prices } from "./screens/Prices";
import { Roll } from "./screens/Roll";
import { Safe } from "./screens/Safe";
import { Settings } from "./screens/Settings";
import { Stock } from "./screens/Stock";
import { Totals } from "./screens/Totals";
import { words } from "./words/en";
import { bookWords } from "./words/en_book";
import "./style/page.css";
import "./style/book.css";

const screens = { measure: Measure, panels: Panels, roll: Roll, cost: Cost, papers: Papers, about: About };
const shopScreens = { jobs: Jobs, stock: Stock, prices: Prices, totals: Totals, settings: Settings, safe: Safe };

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
    const screen = stage === "about" ? bookWords.aboutJob : words.stages[stage];
    document.title = job
      ? `${job.said.title || words.untitled} · ${screen} · ${words.program}`
      : `${bookWords.screens[currentShop.value]} · ${words.program}`;
  }, [job, stage, currentShop.value]);
  // Another screen begins at its top, wherever the one before was left.
  useLayoutEffect(() => scrollTo(0, 0), [currentJob.value, stage, currentShop.value]);
  useEffect(() => {
    addEventListener("keydown", keys);
    return () => removeEventListener("keydown", keys);
  }, []);
  const Screen = screens[stage];
  const ShopScreen = shopScreens[currentShop.value];
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
      {!currentJob.value && (
        <>
          <ShopHead />
          <ShopScreen />
        </>
      )}
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
    page.textContent = words.noCore;
    return;
  }
  followAddress();
  followFillers();
  followBook();
  page.textContent = "";
  render(<Page />, page);
}
void start();
