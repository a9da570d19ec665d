// Edits of one thing of a panel, such as an opening or a piece that is put on it.
import type { Edit } from "../core/answers";
import { act, inTheWay, tell } from "../state/store";

/// `now`: what is said of it. `edit` says a field anew, by "" no more; `take` does several at once, or says what is in the way.
export function editsOf<Said extends object>(panelId: string, target: string, name: string, now: Said) {
  const edit = (field: keyof Said & string, value: Said[keyof Said] | ""): Edit => ({
    target,
    field,
    ...(now[field] === undefined ? {} : { old: now[field] }),
    ...(value === "" || value === undefined ? {} : { new: value }),
  });
  const take = (label: string, edits: Edit[]) => {
    const stopped = inTheWay(panelId, edits);
    if (stopped) tell(stopped, true);
    else act(`${name}, ${label}`, edits);
  };
  return { edit, take };
}
