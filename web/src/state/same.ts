// Answers of the core are new objects each time; what has not changed stays the object it was, so that a screen draws anew only
// what did.

/// `now` with all of it that equals the same place of `before` taken from there. Both as JSON gives them.
export function sharing<T>(before: unknown, now: T): T {
  if (before === now || typeof now !== "object" || now === null || typeof before !== "object" || before === null) return now;
  if (Array.isArray(now)) {
    if (!Array.isArray(before)) return now;
    let same = before.length === now.length;
    for (let i = 0; i < now.length; ++i) {
      now[i] = sharing(before[i], now[i]);
      same &&= now[i] === before[i];
    }
    return same ? (before as T) : now;
  }
  const was = before as Record<string, unknown>;
  const is = now as Record<string, unknown>;
  const keys = Object.keys(is);
  let same = !Array.isArray(before) && Object.keys(was).length === keys.length;
  for (const key of keys) {
    is[key] = sharing(was[key], is[key]);
    same &&= key in was && is[key] === was[key];
  }
  return same ? (before as T) : now;
}
