// Sending: one parcel after the other, each tried until it is answered.

import { button, byId, el, tell, word } from "./porch-base.js";
import { draw, links } from "./porch-draw.js";
import { isAtNewest, keepStill, merge, toNewest } from "./porch-log.js";

// Not randomUUID: a browser offers that only where the connection counts as safe.
function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}

const queue = [];
let pumping = false, wake = null;

// The connection is back: what waits need not wait longer.
export const hurry = () => wake?.();

links.parcelOf = (line, press) => queue.find((parcel) => parcel.line === line && parcel.code === press.code);

const isList = (line) => line.body.blocks.some((block) => block.block === "items");

links.press = (line, press, text) => {
  const body = { id: freshId(), code: press.code, ...(text === null ? {} : { text }) };
  // The next press is often in the same list.
  if (isList(line)) keepStill();
  enqueue({ url: "/press", body, label: text ? press.label + ": " + text : press.label, line, code: press.code });
};

export function sendLine(text, photo) {
  enqueue({ url: photo ? "/photo" : "/say", body: { id: freshId(), line: text }, photo, label: text });
}

function enqueue(parcel) {
  Object.assign(parcel, { failed: false, how: word("sending") });
  queue.push(parcel);
  show(parcel);
  if (!parcel.line) toNewest();
  pump();
}

// Shows how a parcel stands: beside the press that it came from, and at the end of the transcript.
function show(parcel) {
  drawUnsent();
  if (parcel.line) draw(parcel.line);
}

function drawUnsent() {
  const pinned = isAtNewest(), stuck = queue.some((parcel) => parcel.late);
  // A press that is on its way shows it by itself.
  const shown = queue.filter((parcel) => !parcel.line || parcel.failed || stuck);
  byId("unsent").replaceChildren(...shown.map((parcel) => {
    const item = el("li", "unsent");
    // Behind one that could not be sent, nothing is on its way.
    const how = stuck && !parcel.failed ? word("unsent") : parcel.how;
    item.append(el("p", "typed", parcel.label), el("p", parcel.failed ? "how failed" : "how", how));
    if (parcel.late || parcel.failed) {
      const choices = el("div", "answers");
      if (parcel.late) choices.append(button("", word("unsent-now"), () => wake?.()));
      if (parcel.failed) choices.append(button("", word("unsent-drop"), () => settle(parcel)));
      item.append(choices);
    }
    return item;
  }));
  if (pinned) toNewest();
}

function settle(parcel) {
  const at = queue.indexOf(parcel);
  if (at >= 0) queue.splice(at, 1);
  show(parcel);
}

// One at a time and in order: a line may speak of what the one before it did.
async function pump() {
  if (pumping) return;
  pumping = true;
  for (let parcel; (parcel = queue.find((waiting) => !waiting.failed)); ) {
    const outcome = await post(parcel);
    if (outcome.lines) {
      settle(parcel);
      merge(outcome.lines, !parcel.line || !isList(parcel.line), true);
    } else if (outcome.error) {
      Object.assign(parcel, { failed: true, late: false, how: word("failed") + ": " + outcome.error });
      show(parcel);
    } else {
      // It may have arrived all the same. The same id goes out again, so nothing is counted twice.
      parcel.tries = (parcel.tries ?? 0) + 1;
      Object.assign(parcel, { late: true, how: word("unsent") });
      show(parcel);
      await pause(Math.min(30000, 1000 * 2 ** parcel.tries));
    }
  }
  pumping = false;
}

function pause(ms) {
  return new Promise((done) => {
    const timer = setTimeout(done, ms);
    wake = () => { clearTimeout(timer); done(); };
  });
}

async function post(parcel) {
  const request = { method: "POST", signal: AbortSignal.timeout(parcel.photo ? 90000 : 20000) };
  if (parcel.photo) {
    request.body = new FormData();
    for (const [name, value] of Object.entries(parcel.body)) request.body.append(name, value);
    request.body.append("file", parcel.photo, "photo");
  } else {
    request.headers = { "content-type": "application/json" };
    request.body = JSON.stringify(parcel.body);
  }
  try {
    const response = await fetch(parcel.url, request);
    if (response.ok) return await response.json();
    if (response.status === 401) tell(word("ended"));
    if (response.status === 401 || response.status >= 500) return {};
    return { error: (await response.json()).error };
  } catch {
    return {};
  }
}

window.addEventListener("online", hurry);
window.addEventListener("beforeunload", (event) => { if (queue.length) event.preventDefault(); });
