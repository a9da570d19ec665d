// A new opening, or another form for one: its form, where it is, its sizes. Ease, finish and slit follow beside it.
import { useEffect, useState } from "preact/hooks";
import type { Edit, Finding, Panel, SaidPanel } from "../core/answers";
import { act, choose, derived, wouldStop } from "../state/store";
import { step } from "../state/places";
import { Faults } from "../parts/Form";
import { words } from "../words/en";
import { formOf, lidsFor, type OpeningForm, type SaidOpening } from "./AtOpening";
import { panelView } from "./Panels";
import { picking, pointsIn } from "./picking";

const pointsTaken: Record<OpeningForm, number> = { round: 1, box: 1, slot: 2, free: 500, lid: 0 };
const ofMats: OpeningForm[] = ["round", "box"];
const ofPanels: OpeningForm[] = ["round", "box", "slot", "free", "lid"];

function freeName(said: SaidPanel, form: OpeningForm): string {
  const first = words.openingForms[form]?.[2] ?? form;
  const taken = new Set(said.openings?.map((o) => o.id));
  for (let n = 1; ; n++) {
    const name = n === 1 ? first : `${first} ${n}`;
    if (!taken.has(name)) return name;
  }
}

/// What belongs to one form alone; a lid has its gap in place of an ease.
const ofForm = ["at", "diameter", "size", "radius", "along", "turn", "slot", "width", "outline", "lid", "gap"] as const;

/// `was`: the opening that gets another form; what is said of its finish and slit stays.
export function NewOpening({ panel, said, was }: { panel: Panel; said: SaidPanel; was?: SaidOpening }) {
  const [form, setForm] = useState<OpeningForm>("round");
  const [stopped, setStopped] = useState<Finding[]>([]);
  useEffect(
    () => () => {
      if (picking.value?.panel === panel.id) picking.value = null;
    },
    [panel.id],
  );
  const now = picking.value?.panel === panel.id ? picking.value : null;
  const begin = (to: OpeningForm) => {
    setForm(to);
    setStopped([]);
    panelView.value = "above";
    picking.value = { panel: panel.id, most: pointsTaken[to], names: now?.names.slice(0, pointsTaken[to]) ?? [] };
  };
  const lids = lidsFor(panel, derived.value.panels);
  const forms = (panel.mat ? ofMats : ofPanels.filter((f) => f !== "lid" || lids.length > 0)).filter((f) => !was || f !== formOf(was));
  if (!now)
    return (
      <div class="row">
        <button onClick={() => begin(forms[0] ?? "round")}>{was ? words.changeForm : words.addOpening}</button>
      </div>
    );

  const add = (event: Event) => {
    event.preventDefault();
    const data = new FormData(event.currentTarget as HTMLFormElement);
    const field = (name: string) => String(data.get(name) ?? "").trim();
    const id = was?.id ?? field("id");
    const opening: SaidOpening = { id };
    if (form === "free") opening.outline = pointsIn(field("place"));
    else if (form === "slot") opening.slot = field("place");
    else if (form !== "lid") opening.at = field("place");
    for (const key of ["diameter", "size", "width", "lid"] as const) if (data.has(key)) opening[key] = field(key);
    const target = `/panels/${step(panel.id)}/openings/${step(id)}`;
    const changed = [...ofForm, ...(form === "lid" ? (["ease"] as const) : [])].filter((k) => was?.[k] !== undefined || opening[k] !== undefined);
    const edits: Edit[] = was
      ? changed.map((k) => ({
          target,
          field: k,
          ...(was[k] === undefined ? {} : { old: was[k] }),
          ...(opening[k] === undefined ? {} : { new: opening[k] }),
        }))
      : [{ target, field: "", new: opening }];
    const inTheWay = wouldStop(panel.id, edits);
    setStopped(inTheWay);
    if (inTheWay.length > 0 || !act(words.opening(id), edits)) return;
    picking.value = null;
    choose("opening", `${panel.id}/${id}`);
  };
  return (
    <form class="card stack" onSubmit={add} aria-label={was ? words.changeForm : words.addOpening}>
      <fieldset>
        <legend>{words.openingForm}</legend>
        <div class="choices">
          {forms.map((f) => (
            <label class="choice" key={f}>
              <input type="radio" name="form" checked={form === f} onChange={() => begin(f)} />
              <span>
                <b>{words.openingForms[f]?.[0]}</b> <span class="quiet">{words.openingForms[f]?.[1]}</span>
              </span>
            </label>
          ))}
        </div>
      </fieldset>
      {!was && (
        <label key={form}>
          {words.openingName}
          <input name="id" required maxLength={40} defaultValue={freeName(said, form)} autocomplete="off" />
        </label>
      )}
      {form !== "lid" && (
        <label>
          {form === "slot" ? words.openingSlot : form === "free" ? words.openingOutline : words.openingAt}
          <input
            name="place"
            required
            autocomplete="off"
            spellcheck={false}
            placeholder={panel.mat ? words.openingAtMat : form === "slot" ? "P Q" : form === "free" ? "T1 T2 T3" : "P"}
            value={now.names.join(" ")}
            onInput={(e) => (picking.value = { ...now, names: panel.mat ? [e.currentTarget.value] : e.currentTarget.value.split(/[\s,]+/) })}
          />
        </label>
      )}
      {form !== "lid" && <p class="hint">{panel.mat ? words.openingAtMatHelp : words.openingAtHelp}</p>}
      {form === "round" && <Sized name="diameter" label={words.openingDiameter} example="2" />}
      {form === "box" && <Sized name="size" label={words.openingSize} example={words.openingSizeExample} />}
      {form === "slot" && <Sized name="width" label={words.openingWidth} example="2" />}
      {form === "lid" && (
        <label>
          {words.openingLid}
          <select name="lid">
            {lids.map(([id, name]) => (
              <option value={id} key={id}>
                {name}
              </option>
            ))}
          </select>
        </label>
      )}
      {stopped.length > 0 && <Faults of={stopped} />}
      {!was && <p class="hint">{words.openingNext}</p>}
      <div class="row">
        <button class="strong" type="submit">
          {was ? words.giveForm : words.makeOpening}
        </button>
        <button type="button" onClick={() => (picking.value = null)}>
          {words.cancel}
        </button>
      </div>
    </form>
  );
}

function Sized({ name, label, example }: { name: string; label: string; example: string }) {
  return (
    <label key={name}>
      {label} <span class="quiet">({derived.value.units})</span>
      <input name={name} required placeholder={example} autocomplete="off" spellcheck={false} />
    </label>
  );
}
