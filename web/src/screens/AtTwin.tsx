// Mirror twins: port for starboard of a panel that was measured, assumed until its check sizes were taped aboard.
import { useId } from "preact/hooks";
import type { Edit, Panel, SaidPanel } from "../core/answers";
import { act, choose, derived, inTheWay, openJob, tell } from "../state/store";
import { step } from "../state/places";
import { Field, Pick } from "../parts/Field";
import { words } from "../words/en";
import { setField } from "./AtPanel";
import { pointsIn } from "./picking";

/// Panels that have a shape of their own, by id and name.
export function originalsFor(id: string, all: SaidPanel[]): [string, string][] {
  return all.filter((p) => p.id !== id && p.twin_of === undefined).map((p) => [p.id, p.name || p.id]);
}

export function AtTwin({ panel, said }: { panel: Panel; said: SaidPanel }) {
  const id = useId();
  const target = `/panels/${step(panel.id)}`;
  const all = openJob.value?.said.panels ?? [];
  const original = said.twin_of ?? "";
  const take = (name: string, edit: Edit) => {
    const stopped = inTheWay(panel.id, [edit]);
    if (stopped) tell(stopped, true);
    else act(name, [edit]);
  };
  const about = said.twin_about ?? "";
  const aboutEdit = (typed: string): Edit => ({
    target,
    field: "twin_about",
    ...(about ? { old: about } : {}),
    ...(typed ? { new: pointsIn(typed).join(" ") } : {}),
  });
  const assumed = derived.value.findings.find((f) => f.code === "twin-assumed" && f.subject.id === panel.id);
  return (
    <>
      <Field label={words.panelName} value={said.name ?? ""} onTake={(v) => setField(`${words.panelName}: ${v}`, target, "name", said.name, v)} />
      <Pick
        label={words.twinOf}
        help={words.twinHelp}
        value={original}
        all={originalsFor(panel.id, all)}
        onTake={(v) => take(`${words.twinOf}: ${v}`, { target, field: "twin_of", old: original, new: v })}
      />
      <Field
        label={words.twinAbout}
        help={words.twinAboutHelp}
        example="Q J1"
        value={about}
        wrong={(t) => (t && pointsIn(t).length !== 2 ? words.twinAboutTwo : inTheWay(panel.id, [aboutEdit(t)]))}
        onTake={(t) => act(`${words.twinAbout}: ${t || words.nothingThere}`, [aboutEdit(t)])}
      />
      <button onClick={() => choose("panel", original)}>{words.twinGoTo(all.find((p) => p.id === original)?.name || original)}</button>
      <label class="choice" for={id}>
        <input
          id={id}
          type="checkbox"
          checked={said.twin_checked ?? false}
          aria-describedby={assumed ? `${id}h` : undefined}
          onChange={(e) => setField(words.twinChecked, target, "twin_checked", said.twin_checked, e.currentTarget.checked || undefined)}
        />
        <span>{words.twinChecked}</span>
      </label>
      {assumed && (
        <p class="hint" id={`${id}h`}>
          {words.twinAssumed}
        </p>
      )}
    </>
  );
}

/// Gives up what was said of this panel's shape and makes it the twin of another; undo brings it back.
export function MakeTwin({ panel, said }: { panel: Panel; said: SaidPanel }) {
  const all = openJob.value?.said.panels ?? [];
  const originals = originalsFor(panel.id, all);
  if (originals.length === 0) return null;
  const make = (original: string) => {
    if (!original) return;
    const target = `/panels/${step(panel.id)}`;
    const before = all[all.findIndex((p) => p.id === panel.id) - 1]?.id ?? "";
    const twin = { id: said.id, ...(said.name ? { name: said.name } : {}), twin_of: original };
    const edits: Edit[] = [
      { target, field: "", old: said, behind: before },
      { target, field: "", new: twin, behind: before },
    ];
    const stopped = inTheWay(panel.id, edits);
    if (stopped) tell(stopped, true);
    else act(`${words.twinOf}: ${original}`, edits);
  };
  return (
    <details>
      <summary>{words.twinMake}</summary>
      <Pick label={words.twinOf} help={words.twinMakeHelp} value="" all={[["", words.twinChoose], ...originals]} onTake={make} />
    </details>
  );
}

/// A new panel that is the twin of another.
export function NewTwin({ onMake }: { onMake: (original: string, name: string) => void }) {
  const originals = originalsFor("", openJob.value?.said.panels ?? []);
  if (originals.length === 0) return null;
  return (
    <details style={{ width: "100%" }}>
      <summary>{words.twin}</summary>
      <form
        class="stack"
        onSubmit={(event) => {
          event.preventDefault();
          const data = new FormData(event.currentTarget);
          onMake(String(data.get("original") ?? ""), String(data.get("name") ?? "").trim());
        }}
      >
        <label>
          {words.twinOf}
          <select name="original">
            {originals.map(([id, name]) => (
              <option value={id} key={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
        <label>
          {words.panelName}
          <input name="name" autocomplete="off" maxLength={80} />
        </label>
        <p class="hint">{words.twinHelp}</p>
        <div class="row">
          <button type="submit">{words.twinNew}</button>
        </div>
      </form>
    </details>
  );
}
