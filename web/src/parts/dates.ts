// Days and moments, as the device writes them.

/// `at`: seconds since 1970.
export const day = (at: number): string => new Date(at * 1000).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });
export const moment = (at: number): string =>
  new Date(at * 1000).toLocaleString(undefined, { day: "numeric", month: "short", hour: "2-digit", minute: "2-digit" });
/// A day as papers and prices name it, "2026-03-01"; on this device's calendar.
export function today(): string {
  const now = new Date();
  return [now.getFullYear(), String(now.getMonth() + 1).padStart(2, "0"), String(now.getDate()).padStart(2, "0")].join("-");
}
/// "2026-03-01" as the device writes days.
export const dayOf = (date: string): string => (date ? new Date(`${date}T12:00:00`).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" }) : "");
