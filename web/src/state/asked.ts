// What a screen asks the shop's machine for, asked again when it may have changed.
import { useCallback, useEffect, useState } from "preact/hooks";
import { Refused } from "../shop/call";
import { bookChanged } from "./news";
import type { Finding } from "../core/answers";

export interface Asked<T> {
  answer: T | null;
  /// Nobody answers.
  away: boolean;
  refused: Finding[];
  again: () => void;
}

/// The answer of `ask`, asked anew when one of `parts` or the shop's book changes; the one before stays until the next is there.
export function useAsked<T>(ask: () => Promise<T>, parts: unknown[]): Asked<T> {
  const [state, setState] = useState<Omit<Asked<T>, "again">>({ answer: null, away: false, refused: [] });
  const [times, setTimes] = useState(0);
  useEffect(() => {
    let gone = false;
    ask()
      .then((answer) => !gone && setState({ answer, away: false, refused: [] }))
      .catch((fault) => {
        if (gone) return;
        setState((s) => ({ ...s, away: !(fault instanceof Refused), refused: fault instanceof Refused ? fault.findings : [] }));
      });
    return () => {
      gone = true;
    };
  }, [times, bookChanged.value, ...parts]);
  const again = useCallback(() => setTimes((n) => n + 1), []);
  return { ...state, again };
}

export interface Sending {
  busy: boolean;
  refused: Finding[];
  /// True when it was done; else `refused` says why not, and what was typed is still there.
  send: (work: () => Promise<unknown>) => Promise<boolean>;
  clear: () => void;
}

export function useSending(away: Finding): Sending {
  const [busy, setBusy] = useState(false);
  const [refused, setRefused] = useState<Finding[]>([]);
  const send = async (work: () => Promise<unknown>): Promise<boolean> => {
    setBusy(true);
    try {
      await work();
      setRefused([]);
      return true;
    } catch (fault) {
      setRefused(fault instanceof Refused && fault.findings.length > 0 ? fault.findings : [away]);
      return false;
    } finally {
      setBusy(false);
    }
  };
  return { busy, refused, send, clear: () => setRefused([]) };
}
