// A dialog of the browser's own: keeps the focus inside, closes with Escape.
import type { ComponentChildren } from "preact";
import { useEffect, useId, useRef } from "preact/hooks";

export function Dialog(props: { title: string; onClose: () => void; large?: boolean; children: ComponentChildren }) {
  const box = useRef<HTMLDialogElement>(null);
  const id = useId();
  useEffect(() => {
    const dialog = box.current;
    dialog?.showModal();
    return () => dialog?.close();
  }, []);
  return (
    <dialog ref={box} class={props.large ? "large" : ""} aria-labelledby={id} onClose={props.onClose}>
      <h3 id={id} style={{ marginBottom: "12px" }}>
        {props.title}
      </h3>
      {props.children}
    </dialog>
  );
}
