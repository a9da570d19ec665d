// The first five minutes, shown with the example alone: break a reading, see it caught, put it right.
import { signal } from "@preact/signals";
import { act, history, openJob } from "../state/store";
import { drawnSpaces } from "../state/store";
import { step } from "../state/places";
import { Prose } from "../parts/Text";
import { words } from "../words/en";

const whole = "A C 111";
const broken = "A C 112";
const exampleTitle = "Cockpit sole";
const seenKey = "spile.lesson-seen";

function seenBefore(): boolean {
  try {
    return localStorage.getItem(seenKey) !== null;
  } catch {
    return false;
  }
}
/// Whether this person has put the lesson away.
const seen = signal(seenBefore());
/// The example asks for its lesson again each time it is opened from the door.
export const showLesson = (): void => void (seen.value = false);

function putAway(): void {
  seen.value = true;
  try {
    localStorage.setItem(seenKey, "yes");
  } catch {
    // It will be shown again.
  }
}

export function Lesson() {
  const job = openJob.value;
  if (!job || seen.value || job.said.title !== exampleTitle) return null;
  const space = job.said.spaces?.[0];
  const tie = space?.ties?.find((t) => typeof t !== "string" && (t.line === whole || t.line === broken));
  if (!tie) return null;
  const caught = drawnSpaces.value[0]?.survey?.suspects.length ?? 0;
  const broke = history.value.done.some((s) => s.name === words.lessonBroke) || history.value.undone.length > 0;
  const done = [broke, broke && caught > 0, broke && caught === 0];
  done[1] = done[1] || done[2] === true;
  return (
    <aside class="lesson" aria-label={words.lessonTitle}>
      <div class="row" style={{ justifyContent: "space-between" }}>
        <h2>{words.lessonTitle}</h2>
        <button
          class="plain"
          onClick={putAway}
        >
          {words.enoughLesson}
        </button>
      </div>
      <ol>
        {words.lesson.map((text, i) => (
          <li key={text}>
            <span class={`tick${done[i] ? " yes" : ""}`} role="img" aria-label={done[i] ? "done" : "open"}>
              {done[i] ? "✓" : i + 1}
            </span>
            <span>
              <Prose text={text} />
              {i === 0 && !broke && space && typeof tie !== "string" && tie.line === whole && (
                <>
                  {" "}
                  <button
                    style={{ marginTop: "6px" }}
                    onClick={() =>
                      act(words.lessonBroke, [
                        { target: `/spaces/${step(space.id)}/ties/${tie.id ?? ""}`, field: "line", old: whole, new: broken },
                      ])
                    }
                  >
                    {words.breakIt}
                  </button>
                </>
              )}
            </span>
          </li>
        ))}
      </ol>
    </aside>
  );
}
