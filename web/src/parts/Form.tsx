// Forms that are sent to the shop's machine: what it refuses is said beside what was typed, which stays.
import type { ComponentChildren } from "preact";
import { useId, useRef, useState } from "preact/hooks";
import { core } from "../core/core";
import type { Finding } from "../core/answers";
import { useSending, type Asked } from "../state/asked";
import { tell, units } from "../state/store";
import { words } from "../words/en";
import { bookWords } from "../words/en_book";
import { Prose } from "./Text";

/// What stands where an answer should, when none came.
export const nobodyAnswers: Finding = {
  code: "away",
  severity: "stop",
  subject: { kind: "shop", id: "" },
  numbers: [],
  says: words.noMachine,
  to_do: bookWords.tryAgainLater,
  where: "",
};

export function Faults({ of }: { of: Finding[] }) {
  return (
    <div role="alert" class="list">
      <Findings of={of} />
    </div>
  );
}

/// What the program says of something, each with what to do.
export const Findings = ({ of }: { of: Finding[] }) => (
  <>
    {of.map((f) => (
      <p class={`finding ${f.severity}`} key={f.code + f.says}>
        <span class="says">
          <Prose text={f.says} />
        </span>
        <span class="to-do">
          <Prose text={f.to_do} />
        </span>
      </p>
    ))}
  </>
);

export function Away({ asked }: { asked: Asked<unknown> }) {
  if (asked.refused.length > 0) return <Faults of={asked.refused} />;
  if (!asked.away) return null;
  return (
    <div class="finding stop">
      <p>{words.noMachine}</p>
      <button onClick={asked.again}>{words.tryAgain}</button>
    </div>
  );
}

/// What was typed, by name. Lengths are read by the core in the units that are shown.
export class Typed {
  constructor(private readonly data: FormData) {}
  text(name: string): string {
    return String(this.data.get(name) ?? "").trim();
  }
  whole(name: string): number {
    return Number.parseInt(this.text(name), 10) || 0;
  }
  flag(name: string): boolean {
    return this.data.get(name) !== null;
  }
  /// In millimetres; null when it is no length, which its field says.
  mm(name: string): number | null {
    const read = core.readLength(this.text(name), units.value);
    return read.ok ? read.length.mm : null;
  }
  file(name: string): File | null {
    const file = this.data.get(name);
    return file instanceof File && file.size > 0 ? file : null;
  }
}

/// As typed, with the unit it was typed in, so that a document in other units reads the same.
export const withUnit = (typed: string): string => (/[a-z"'”’]$/i.test(typed) || typed === "" ? typed : `${typed} ${units.value}`);

interface FormProps {
  does: string;
  done?: string;
  strong?: boolean;
  /// Sends it; undefined: something typed is not right yet.
  onSend: (typed: Typed) => Promise<unknown> | undefined;
  onDone?: () => void;
  keep?: boolean;
  children: ComponentChildren;
}

export function Form({ does, done, strong, onSend, onDone, keep, children }: FormProps) {
  const form = useRef<HTMLFormElement>(null);
  const { busy, refused, send } = useSending(nobodyAnswers);
  const submit = async (event: Event) => {
    event.preventDefault();
    const element = form.current;
    if (!element || busy) return;
    const work = onSend(new Typed(new FormData(element)));
    if (!work) {
      // A field says what is wrong when it is left; Enter leaves none.
      for (const field of element.querySelectorAll("input")) field.dispatchEvent(new FocusEvent("blur"));
      await new Promise(requestAnimationFrame);
      element.querySelector<HTMLElement>("[aria-invalid=true]")?.focus();
      return;
    }
    if (!(await send(() => work))) return;
    if (!keep) element.reset();
    if (done) tell(done);
    onDone?.();
  };
  return (
    <form class="stack" ref={form} onSubmit={(e) => void submit(e)}>
      {children}
      {refused.length > 0 && <Faults of={refused} />}
      <div class="row">
        <button type="submit" class={strong ? "strong" : ""} disabled={busy}>
          {busy ? bookWords.working : does}
        </button>
      </div>
    </form>
  );
}

/// A button that sends something by itself.
export function Send(props: { does: string; onSend: () => Promise<unknown>; onDone?: () => void; strong?: boolean; plain?: boolean; disabled?: boolean }) {
  const { busy, refused, send } = useSending(nobodyAnswers);
  const go = async () => {
    if (await send(props.onSend)) props.onDone?.();
  };
  return (
    <>
      <button
        type="button"
        class={props.strong ? "strong" : props.plain ? "plain" : ""}
        disabled={busy || (props.disabled ?? false)}
        onClick={() => void go()}
      >
        {busy ? bookWords.working : props.does}
      </button>
      {refused.length > 0 && <Faults of={refused} />}
    </>
  );
}

interface InputProps {
  label: string;
  name: string;
  value?: string;
  help?: string;
  example?: string;
  required?: boolean;
  type?: "text" | "date" | "search" | "email" | "tel";
  mode?: "text" | "decimal" | "numeric";
}

export function Input({ label, name, value, help, example, required, type, mode }: InputProps) {
  const id = useId();
  return (
    <div>
      <label for={id}>{label}</label>
      <input
        id={id}
        name={name}
        type={type ?? "text"}
        defaultValue={value ?? ""}
        placeholder={example ?? ""}
        required={required ?? false}
        maxLength={200}
        inputMode={mode ?? "text"}
        autocomplete="off"
        aria-describedby={help ? `${id}h` : undefined}
      />
      {help && (
        <p class="hint" id={`${id}h`}>
          {help}
        </p>
      )}
    </div>
  );
}

/// A length in the units that are shown; what is wrong with it is said when the field is left.
export function LengthInput(props: InputProps & { mayBeEmpty?: boolean }) {
  const id = useId();
  const [fault, setFault] = useState("");
  const check = (typed: string) => {
    if (typed.trim() === "" && props.mayBeEmpty) return setFault("");
    const read = core.readLength(typed, units.value);
    const first = read.ok ? undefined : read.findings[0];
    setFault(first ? `${first.says} ${first.to_do}`.trim() : "");
  };
  return (
    <div>
      <label for={id}>
        {props.label} <span class="quiet">({units.value})</span>
      </label>
      <input
        id={id}
        name={props.name}
        defaultValue={props.value ?? ""}
        placeholder={props.example ?? ""}
        required={props.required ?? false}
        autocomplete="off"
        spellcheck={false}
        aria-invalid={fault ? true : undefined}
        aria-describedby={props.help || fault ? `${id}h` : undefined}
        onInput={() => fault && setFault("")}
        onBlur={(e) => e.currentTarget.value !== "" && check(e.currentTarget.value)}
      />
      {(props.help || fault) && (
        <p id={`${id}h`} class={`hint${fault ? " bad" : ""}`}>
          <Prose text={fault || props.help || ""} />
        </p>
      )}
    </div>
  );
}

export function Choose(props: { label: string; name: string; all: [string, string][]; value?: string; required?: boolean }) {
  const id = useId();
  return (
    <div>
      <label for={id}>{props.label}</label>
      <select id={id} name={props.name} required={props.required ?? false}>
        {props.all.map(([key, text]) => (
          <option value={key} key={key} selected={key === (props.value ?? "")}>
            {text}
          </option>
        ))}
      </select>
    </div>
  );
}
