// Small pieces the shop sells, cut from what a layout leaves beside the panels.
import type { Job } from "../../../wasm/types/job";
import { act, openJob } from "../state/store";
import { Choose, Form, Input, LengthInput, withUnit } from "../parts/Form";
import { bookWords as say } from "../words/en_book";
import { words } from "../words/en";

type Filler = NonNullable<NonNullable<Job["goods"]>["fillers"]>[number];

const sizeOf = (f: Filler): string => ("size" in f && f.size !== undefined ? String(f.size) : say.fillerRound(String(f.diameter ?? "")));

export function Fillers() {
  const goods = openJob.value?.said.goods;
  if (!goods) return null;
  const all: Filler[] = goods.fillers ?? [];
  const write = (name: string, now: Filler[]): boolean =>
    act(name, [{ target: "/goods", field: "fillers", ...(goods.fillers ? { old: goods.fillers } : {}), ...(now.length > 0 ? { new: now } : {}) }]);
  return (
    <section class="stack" aria-labelledby="fillers">
      <h3 id="fillers">{say.fillers}</h3>
      {all.map((f) => (
        <div class="row between" key={f.name}>
          <span>{say.fillerIs(f.most ?? 1, f.name, sizeOf(f))}</span>
          <button class="plain" aria-label={say.fillerOut(f.name)} onClick={() => write(say.fillerOut(f.name), all.filter((other) => other !== f))}>
            {words.remove}
          </button>
        </div>
      ))}
      <Form
        does={say.addFiller}
        onSend={(t) => {
          const [along, across] = [t.mm("along"), t.mm("across")];
          const round = t.text("across") === "";
          if (along === null || (!round && across === null)) return undefined;
          const size = round ? { diameter: withUnit(t.text("along")) } : { size: `${withUnit(t.text("along"))} x ${withUnit(t.text("across"))}` };
          const held = t.text("direction") === "held";
          const filler = { name: t.text("name"), ...size, most: t.whole("most") || 1, ...(held ? {} : { direction: "none" }) } as Filler;
          write(say.fillerIn(filler.name), [...all, filler]);
          return Promise.resolve();
        }}
      >
        <Input label={say.fillerName} name="name" example={say.fillerExample} required />
        <div class="pair">
          <LengthInput label={say.fillerAlong} name="along" required />
          <LengthInput label={say.fillerAcross} name="across" mayBeEmpty />
        </div>
        <div class="pair">
          <Input label={say.fillerMost} name="most" mode="numeric" value="4" required />
          <Choose label={say.fillerDirection} name="direction" all={Object.entries(say.fillerDirections)} />
        </div>
        <p class="hint">{say.fillersHelp}</p>
      </Form>
    </section>
  );
}
