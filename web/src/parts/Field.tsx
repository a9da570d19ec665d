// Fields that change the job when they are left or Enter is struck, and say what is wrong with what was typed.
import { useEffect, useId, useState } from "preact/hooks";
import { core } from "../core/core";
import type { Units } from "../core/answers";
import { Prose } from "./Text";

interface FieldProps {
  label: string;
  value: string;
  help?: string;
  example?: string;
  /// Nothing: it may be taken. Else what is wrong.
  wrong?: (typed: string) => string;
  onTake: (typed: string) => void;
  inputMode?: "text" | "decimal";
}

export function Field({ label, value, help, example, wrong, onTake, inputMode }: FieldProps) {
  const id = useId();
  const [typed, setTyped] = useState(value);
  const [fault, setFault] = useState("");
  useEffect(() => {
    setTyped(value);
    setFault("");
  }, [value]);
  const take = () => {
    const clean = typed.trim();
    if (clean === value) return setFault("");
    const bad = wrong?.(clean) ?? "";
    setFault(bad);
    if (!bad) onTake(clean);
  };
  return (
    <div>
      <label for={id}>{label}</label>
      <input
        id={id}
        value={typed}
        placeholder={example ?? ""}
        inputMode={inputMode ?? "text"}
        autocomplete="off"
        spellcheck={false}
        aria-describedby={help || fault ? `${id}h` : undefined}
        aria-invalid={fault ? true : undefined}
        onInput={(e) => setTyped(e.currentTarget.value)}
        onBlur={take}
        onKeyDown={(e) => {
          if (e.key === "Enter") take();
          if (e.key === "Escape") setTyped(value);
        }}
      />
      {(help || fault) && (
        <p id={`${id}h`} class={`hint${fault ? " bad" : ""}`}>
          <Prose text={fault || help || ""} />
        </p>
      )}
    </div>
  );
}

/// A length as on a tape; empty only where `mayBeEmpty`. `wrong` is asked of what is a length.
export function LengthField(props: Omit<FieldProps, "inputMode"> & { units: Units; mayBeEmpty?: boolean }) {
  const wrong = (typed: string): string => {
    if (typed === "" && props.mayBeEmpty) return "";
    const read = core.readLength(typed, props.units);
    if (read.ok) return props.wrong?.(typed) ?? "";
    const first = read.findings[0];
    return first ? `${first.says} ${first.to_do}`.trim() : "";
  };
  return <Field {...props} wrong={wrong} />;
}

export function Choices(props: {
  legend: string;
  name: string;
  value: string;
  all: Record<string, [string, string]>;
  onTake: (value: string) => void;
}) {
  return (
    <fieldset>
      <legend>{props.legend}</legend>
      <div class="choices">
        {Object.entries(props.all).map(([key, [title, more]]) => (
          <label class="choice" key={key}>
            <input type="radio" name={props.name} checked={props.value === key} onChange={() => props.onTake(key)} />
            <span>
              <b>{title}</b> <span class="quiet">{more}</span>
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}

/// One of a list that may be long.
export function Pick(props: { label: string; value: string; all: [string, string][]; help?: string; onTake: (value: string) => void }) {
  const id = useId();
  return (
    <div>
      <label for={id}>{props.label}</label>
      <select id={id} aria-describedby={props.help ? `${id}h` : undefined} onChange={(e) => props.onTake(e.currentTarget.value)}>
        {props.all.map(([key, title]) => (
          <option value={key} key={key} selected={key === props.value}>
            {title}
          </option>
        ))}
      </select>
      {props.help && (
        <p id={`${id}h`} class="hint">
          {props.help}
        </p>
      )}
    </div>
  );
}
