// The line at the foot: typing, completing, recalling, and the photo that goes with it.

import { byId, el, tell, word } from "./porch-base.js";
import { sendLine } from "./porch-send.js";

const PHOTO_EDGE = 2000;
const input = byId("line"), ways = byId("ways");

// Brings a photo down to a sensible size. Drawing it anew also leaves behind where and with what it was taken.
async function lighten(file) {
  try {
    const picture = await createImageBitmap(file);
    const scale = Math.min(1, PHOTO_EDGE / Math.max(picture.width, picture.height));
    const canvas = el("canvas");
    canvas.width = Math.round(picture.width * scale);
    canvas.height = Math.round(picture.height * scale);
    canvas.getContext("2d").drawImage(picture, 0, 0, canvas.width, canvas.height);
    const light = await new Promise((done) => canvas.toBlob(done, "image/jpeg", 0.88));
    return light ?? file;
  } catch {
    // What the browser cannot draw, the house judges.
    return file;
  }
}

const history = [];
let turned = 0, shown = [], chosen = -1, asked = 0, pausing = null, kept = null;

function choose(at) {
  chosen = at;
  Array.from(ways.children).forEach((way, index) => way.setAttribute("aria-selected", String(index === at)));
  if (at < 0) return input.removeAttribute("aria-activedescendant");
  input.setAttribute("aria-activedescendant", "way-" + at);
  ways.children[at].scrollIntoView({ block: "nearest" });
}

function show(found) {
  shown = found.filter((way) => way.line.trimEnd() !== input.value.trimEnd());
  ways.replaceChildren(...shown.map((way, at) => {
    const item = el("li");
    item.id = "way-" + at;
    item.setAttribute("role", "option");
    item.append(el("span", "typed", way.line), el("span", "hint", way.hint));
    // Before the field loses the focus, so that it keeps it.
    item.addEventListener("mousedown", (event) => { event.preventDefault(); take(at); });
    return item;
  }));
  ways.hidden = shown.length === 0;
  input.setAttribute("aria-expanded", String(!ways.hidden));
  choose(-1);
}

function hideWays() {
  asked += 1;
  clearTimeout(pausing);
  show([]);
}

function take(at) {
  // With room for the next word, which is then offered at once. Enter now says the line, should it come sooner.
  const taken = shown[at].line.trimEnd();
  choose(-1);
  input.value = taken + " ";
  input.setSelectionRange(input.value.length, input.value.length);
  complete();
}

async function complete() {
  const turn = ++asked;
  if (!input.value) return show([]);
  try {
    const response = await fetch("/complete?line=" + encodeURIComponent(input.value));
    const found = response.ok ? await response.json() : [];
    if (turn === asked) show(found);
  } catch {
    if (turn === asked) show([]);
  }
}

function recall(step) {
  turned = Math.max(0, Math.min(history.length, turned + step));
  input.value = turned ? history[history.length - turned] : "";
}

function onKey(event) {
  if (event.isComposing) return;
  const open = !ways.hidden, step = { ArrowUp: -1, ArrowDown: 1 }[event.key];
  if (step && open) {
    // One stop more than there are ways: the line as it was typed.
    const stops = shown.length + 1;
    choose((chosen + 1 + step + stops) % stops - 1);
  } else if (step && (input.value === "" || turned)) {
    recall(-step);
  } else if (event.key === "Tab" && open && !event.shiftKey) {
    take(Math.max(0, chosen));
  } else if (event.key === "Enter" && open && chosen >= 0) {
    take(chosen);
  } else if (event.key === "Escape" && open) {
    hideWays();
  } else {
    return;
  }
  event.preventDefault();
}

function keep(photo, name) {
  kept = photo;
  byId("kept").hidden = !photo;
  byId("kept-name").textContent = photo ? name : "";
  byId("file").value = "";
}

function say(event) {
  event.preventDefault();
  const text = input.value.trim();
  if (!text) {
    if (kept) tell(word("photo-needs-line"));
    return;
  }
  if (kept) tell(null);
  sendLine(text, kept);
  if (history.at(-1) !== text) history.push(text);
  turned = 0;
  input.value = "";
  keep(null);
  hideWays();
}

export function wire() {
  byId("say").addEventListener("submit", say);
  input.addEventListener("keydown", onKey);
  input.addEventListener("blur", hideWays);
  input.addEventListener("input", () => {
    turned = 0;
    clearTimeout(pausing);
    pausing = setTimeout(complete, 120);
  });
  byId("pick").addEventListener("click", () => byId("file").click());
  byId("kept-leave").addEventListener("click", () => { keep(null); input.focus(); });
  byId("file").addEventListener("change", async () => {
    const file = byId("file").files[0];
    if (!file) return;
    keep(await lighten(file), file.name);
    input.focus();
  });
}
