// The transcript: which lines it has, in what order, and the drift between the days.

import { byId, el } from "./porch-base.js";
import { draw, links } from "./porch-draw.js";

const NS = "http://www.w3.org/2000/svg";
const HEADROOM = 12;
const shore = byId("shore"), log = byId("log");
const lines = new Map();
let calendar = null, dayKey = null, revision = 0, still = false;

// From where to read on.
export const seenUpTo = () => revision;
export const sawUpTo = (at) => { revision = Math.max(revision, at); };

// Times and days are the place's own, wherever the reader is.
export function setZone(timeZone) {
  const language = document.documentElement.lang;
  links.clock = new Intl.DateTimeFormat(language, { timeZone, hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  dayKey = new Intl.DateTimeFormat("en", { timeZone, dateStyle: "short" });
  const year = new Intl.DateTimeFormat("en", { timeZone, year: "numeric" });
  const near = { timeZone, weekday: "long", day: "numeric", month: "long" };
  const short = new Intl.DateTimeFormat(language, near);
  const full = new Intl.DateTimeFormat(language, { ...near, year: "numeric" });
  calendar = (at) => (year.format(at) === year.format(Date.now()) ? short : full).format(at);
}

function drawDay(at) {
  const day = el("li", "day");
  const drift = document.createElementNS(NS, "svg"), rect = document.createElementNS(NS, "rect");
  drift.setAttribute("class", "drift");
  drift.setAttribute("aria-hidden", "true");
  rect.setAttribute("width", "100%");
  rect.setAttribute("height", "14");
  rect.setAttribute("fill", "url(#drift)");
  drift.append(rect);
  day.append(el("h2", "", calendar(at)), drift);
  return day;
}

// Lays out the drift between the days, and lets an answer lean on the line it answers.
function arrange() {
  for (const day of log.querySelectorAll(".day")) day.remove();
  let before = null;
  for (const line of Array.from(lines.values()).sort((a, b) => a.id - b.id)) {
    const sameDay = before && dayKey.format(before.at_ms) === dayKey.format(line.at_ms);
    if (!sameDay) line.node.before(drawDay(line.at_ms));
    line.follows = Boolean(sameDay && line.body.kind === "answer" && before.body.kind === "said" &&
      before.body.who === line.body.who);
    line.node.classList.toggle("follows", line.follows);
    before = line;
  }
  byId("empty").hidden = lines.size > 0;
}

// Takes lines in, new or edited, in whatever order and however often they come. The answer to an own line may say more
// than the transcript keeps, so it stands before a line of the same revision that came another way.
export function merge(fresh, mine, own = false) {
  const pinned = mine || isAtNewest();
  let grown = false;
  for (const next of fresh) {
    sawUpTo(next.revision);
    const known = lines.get(next.id);
    if (known && (known.revision > next.revision || (known.revision === next.revision && !own))) continue;
    const line = Object.assign(known ?? {}, next, { pinned });
    // A line that changes is not read out anew: what changed it has an answer of its own.
    known?.node.setAttribute("aria-live", "off");
    draw(line);
    if (known) continue;
    grown = true;
    const later = Array.from(lines.values()).filter((other) => other.id > line.id);
    const nearest = later.reduce((best, other) => (!best || other.id < best.id ? other : best), null);
    log.insertBefore(line.node, nearest?.node ?? null);
    lines.set(line.id, line);
  }
  arrange();
  if (pinned) toNewest();
  else if (grown) byId("newest").hidden = false;
}

// Where the view belongs when it shows the newest: at the end, but never past the first words of the last line. A
// call with many turns is read from its top.
function newest() {
  const end = shore.scrollHeight - shore.clientHeight, last = log.lastElementChild;
  if (!last || byId("unsent").childElementCount > 0) return end;
  const first = last.classList.contains("follows") ? last.previousElementSibling : last;
  return Math.min(end, first.offsetTop - HEADROOM);
}

// Whether what comes next may move the view.
export const isAtNewest = () => !still && shore.scrollHeight - shore.scrollTop - shore.clientHeight < 80;

// Someone presses their way down a list: nothing may slide away from under their hands until they move on.
export const keepStill = () => { still = true; };

export function toNewest() {
  still = false;
  shore.scrollTop = newest();
  byId("newest").hidden = true;
}

for (const kind of ["wheel", "touchmove"]) {
  shore.addEventListener(kind, () => { still = false; }, { passive: true });
}
links.photoCame = (line) => { if (line.pinned) toNewest(); };
byId("newest").addEventListener("click", toNewest);
shore.addEventListener("scroll", () => { if (isAtNewest()) byId("newest").hidden = true; });
