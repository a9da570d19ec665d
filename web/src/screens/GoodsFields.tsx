// The goods of the job as they are: widths, lengths, which ways round a piece may lie, and where their pattern comes again.
import type { Job } from "../../../wasm/types/job";
import { act, derived, openJob } from "../state/store";
import { Field, LengthField, Pick } from "../parts/Field";
import { words } from "../words/en";
import { bookWords as say } from "../words/en_book";
import { setField, text } from "./AtPanel";

type Repeat = NonNullable<NonNullable<Job["goods"]>["repeat"]>;

export function GoodsFields() {
  const goods = openJob.value?.said.goods;
  if (!goods) return null;
  const units = derived.value.units;
  const length = (field: "width" | "usable_width" | "gap" | "step" | "least_order" | "thickness" | "length", label: string, help?: string) => (
    <LengthField
      label={label}
      value={text(goods[field])}
      {...(help ? { help } : {})}
      units={units}
      mayBeEmpty={field !== "width"}
      onTake={(v) => setField(`${label}: ${v}`, "/goods", field, goods[field], v)}
    />
  );
  return (
    <div class="stack">
      <Field label={words.goodsName} value={text(goods.name)} onTake={(v) => setField(`${words.goodsName}: ${v}`, "/goods", "name", goods.name, v)} />
      {length("width", words.goodsWidth)}
      {length("usable_width", words.goodsUsable, words.goodsUsableHelp)}
      {length("gap", words.goodsGap)}
      {length("step", words.goodsStep)}
      {length("least_order", words.goodsLeast, words.goodsLeastHelp)}
      {length("thickness", words.goodsThickness)}
      {length("length", words.goodsLength, words.goodsLengthHelp)}
      <Pick
        label={say.mayLie}
        value={goods.direction ?? "one way"}
        all={Object.entries(say.directions)}
        onTake={(v) => setField(`${say.mayLie}: ${say.directions[v as keyof typeof say.directions]}`, "/goods", "direction", goods.direction, v === "one way" ? "" : v)}
      />
      <Pattern repeat={goods.repeat} />
    </div>
  );
}

function Pattern({ repeat }: { repeat: Repeat | undefined }) {
  const units = derived.value.units;
  const write = (name: string, now: Repeat) => {
    const left = Object.fromEntries(Object.entries(now).filter(([, value]) => value !== "")) as Repeat;
    const any = left.along !== undefined || left.across !== undefined;
    act(name, [{ target: "/goods", field: "repeat", ...(repeat ? { old: repeat } : {}), ...(any ? { new: left } : {}) }]);
  };
  const length = (field: "along" | "across" | "drop", label: string, help = "") => (
    <LengthField label={label} value={text(repeat?.[field])} help={help} units={units} mayBeEmpty onTake={(v) => write(`${label}: ${v}`, { ...repeat, [field]: v })} />
  );
  return (
    <fieldset class="stack">
      <legend>{say.pattern}</legend>
      <div class="pair">
        {length("along", say.patternAlong)}
        {length("across", say.patternAcross)}
      </div>
      {repeat && (
        <>
          {length("drop", say.patternDrop, say.patternDropHelp)}
          <label class="choice">
            <input
              type="checkbox"
              checked={repeat.carried !== false}
              onChange={(e) => write(say.carryIt, { ...repeat, carried: e.currentTarget.checked })}
            />
            <span>{say.carryIt}</span>
          </label>
        </>
      )}
    </fieldset>
  );
}
