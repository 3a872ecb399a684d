// Makes events as docs/sync.md has them: what happened, with an id and the phone's time.

// A random UUID, also where the page came over plain http and the browser makes none.
export function newId(source = globalThis.crypto) {
  if (source.randomUUID !== undefined) return source.randomUUID();
  const bytes = source.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}

// "2027-01-04T19:31:05.120+01:00": the wall clock with its offset.
export function localTime(ms) {
  const moment = new Date(ms);
  const offset = -moment.getTimezoneOffset();
  const shifted = new Date(ms + offset * 60_000).toISOString().slice(0, 23);
  const two = (number) => String(Math.floor(number)).padStart(2, "0");
  const length = Math.abs(offset);
  return `${shifted}${offset < 0 ? "-" : "+"}${two(length / 60)}:${two(length % 60)}`;
}

export const localDay = (ms) => localTime(ms).slice(0, 10);

// Asking the browser is slow, so once an hour or when the offset moves is enough.
let zone = { name: "", asked: "" };

export function zoneName(ms) {
  const asked = `${Math.floor(ms / 3_600_000)} ${new Date(ms).getTimezoneOffset()}`;
  if (zone.asked !== asked) {
    zone = { asked, name: Intl.DateTimeFormat().resolvedOptions().timeZone ?? "" };
  }
  return zone.name;
}

// `place`: {lifter, block, revision, week, session, began}; began is null before anything is done.
// `entry` and `set` name the planned set, null where there was none. `knew`: how far the phone knew
// the lifter's facts when it amended one.
export function makeEvent(kind, said, place, device, nowMs, more = {}) {
  const at = localTime(nowMs);
  const { entry = null, set = null, amends = null, withdrawn = false, knew = 0 } = more;
  return {
    id: newId(), kind, lifter: place.lifter, device, at,
    zone: zoneName(nowMs),
    began: place.began ?? at, amends, withdrawn,
    plan: {
      block: place.block, revision: place.revision, week: place.week, session: place.session,
      entry, set,
    },
    ...amends === null ? {} : { knew },
    [kind]: said,
  };
}
