// A list that the goods of the job hold: what stands in it with a way to take each out, and a form to add one.
import type { ComponentChildren } from "preact";
import type { Job } from "../../../wasm/types/job";
import { act, openJob } from "../state/store";
import { Form, type Typed } from "../parts/Form";
import { words } from "../words/en";

type Goods = NonNullable<Job["goods"]>;
export type OfGoods<F extends "flaws" | "fillers"> = NonNullable<Goods[F]>[number];

interface What<F extends "flaws" | "fillers"> {
  field: F;
  heading: string;
  /** one of them in its row, and what taking it out is called */
  is: (one: OfGoods<F>, i: number) => string;
  out: (one: OfGoods<F>, i: number) => string;
  does: string;
  /** what was typed; null: a length could not be read */
  typed: (t: Typed) => OfGoods<F> | null;
  into: (one: OfGoods<F>) => string;
  children: ComponentChildren;
}

export function GoodsList<F extends "flaws" | "fillers">({ field, heading, is, out, does, typed, into, children }: What<F>) {
  const goods = openJob.value?.said.goods;
  if (!goods) return null;
  const old = goods[field];
  const all = (old ?? []) as OfGoods<F>[];
  const write = (name: string, now: OfGoods<F>[]) => act(name, [{ target: "/goods", field, ...(old ? { old } : {}), ...(now.length > 0 ? { new: now } : {}) }]);
  return (
    <section class="stack" aria-labelledby={field}>
      <h3 id={field}>{heading}</h3>
      {all.map((one, i) => (
        <div class="row between" key={`${i} ${is(one, i)}`}>
          <span>{is(one, i)}</span>
          <button class="plain" aria-label={out(one, i)} onClick={() => write(out(one, i), all.filter((other) => other !== one))}>
            {words.remove}
          </button>
        </div>
      ))}
      <Form
        does={does}
        onSend={(t) => {
          const one = typed(t);
          if (!one) return undefined;
          write(into(one), [...all, one]);
          return Promise.resolve();
        }}
      >
        {children}
      </Form>
    </section>
  );
}
