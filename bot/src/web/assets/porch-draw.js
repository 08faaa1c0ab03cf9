// How one line of the transcript is drawn, with its marks, tables and answers.

import { button, el, word } from "./porch-base.js";

const GLYPHS = { calm: "▁", due: "▃", overdue: "▅", hazard: "█" };

// What the rest of the page does for a drawn line; set by the page itself.
export const links = { press: () => {}, parcelOf: () => null, photoCame: () => {}, clock: null };

function drawMark(item) {
  if (item.settled) return el("span", "mark done", word("settled"));
  if (!item.mark) return null;
  const mark = el("span", "mark " + item.mark);
  const glyph = el("i", "", GLYPHS[item.mark] ?? "");
  glyph.setAttribute("aria-hidden", "true");
  mark.append(glyph, word("mark-" + item.mark));
  return mark;
}

function drawPress(line, press) {
  const node = button("press", press.label, () => {
    if (node.getAttribute("aria-disabled") === "true") return;
    if (!press.asks) return links.press(line, press, null);
    line.asking = line.asking?.code === press.code ? null : { code: press.code, text: "" };
    draw(line);
    line.node.querySelector(".ask input")?.focus();
  });
  node.dataset.code = press.code;
  if (press.asks) node.setAttribute("aria-expanded", String(line.asking?.code === press.code));
  if (links.parcelOf(line, press)?.failed === false) node.setAttribute("aria-disabled", "true");
  return node;
}

function drawAsk(line, press) {
  const form = el("form", "ask");
  const label = el("label", "", press.asks);
  const field = el("input");
  field.autocomplete = "off";
  field.required = true;
  field.maxLength = 1000;
  field.value = line.asking.text;
  field.addEventListener("input", () => { line.asking.text = field.value; });
  label.append(field);
  const leave = () => {
    line.asking = null;
    draw(line);
    find(line, press.code)?.focus();
  };
  form.addEventListener("keydown", (event) => { if (event.key === "Escape") leave(); });
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = field.value.trim();
    if (!text) return;
    leave();
    links.press(line, press, text);
  });
  const submit = el("button", "", word("ask-send"));
  form.append(label, submit, button("", word("ask-leave"), leave));
  return form;
}

function drawAnswers(line, answers) {
  const group = el("div", "answers");
  for (const press of answers) group.append(drawPress(line, press));
  const asked = answers.find((press) => press.asks && press.code === line.asking?.code);
  if (asked) group.append(drawAsk(line, asked));
  for (const parcel of answers.map((press) => links.parcelOf(line, press))) {
    if (parcel?.late || parcel?.failed) group.append(el("p", "how", parcel.how));
  }
  return group;
}

function drawItems(line, items) {
  const list = el("ul", "items");
  for (const item of items) {
    const row = el("li");
    const mark = drawMark(item);
    if (mark) row.append(mark);
    row.append(el("span", item.settled ? "text settled" : "text", item.text));
    if (item.answers?.length) row.append(drawAnswers(line, item.answers));
    list.append(row);
  }
  return list;
}

function drawTable(head, rows) {
  const frame = el("div", "wide");
  frame.tabIndex = 0;
  frame.setAttribute("role", "region");
  frame.setAttribute("aria-label", word("table-label"));
  const table = el("table"), top = el("tr"), body = el("tbody"), thead = el("thead");
  for (const text of head) top.append(scoped(el("th", "", text), "col"));
  thead.append(top);
  for (const cells of rows) {
    const row = el("tr");
    cells.forEach((text, at) => row.append(at ? el("td", "", text) : scoped(el("th", "", text), "row")));
    body.append(row);
  }
  table.append(thead, body);
  frame.append(table);
  return frame;
}

function scoped(cell, scope) {
  cell.scope = scope;
  return cell;
}

function drawBlock(line, block) {
  switch (block.block) {
    case "title": return el("h3", "title", block.text);
    case "text": return el("p", line.body.kind === "said" ? "typed" : "", block.text);
    case "items": return drawItems(line, block.items);
    case "table": return drawTable(block.head, block.rows);
    case "answers": return drawAnswers(line, block.answers);
    case "caution": {
      const caution = el("p", "caution");
      caution.append(el("b", "", word("caution") + ": "), block.text);
      return caution;
    }
    case "photo": {
      const photo = el("img", "photo");
      photo.alt = word("photo-alt");
      photo.src = "/photo/" + Number(block.seq);
      photo.addEventListener("load", () => links.photoCame(line));
      photo.addEventListener("error", () => markGone(photo));
      return photo;
    }
    default: return null;
  }
}

// Photos are kept for a number of days. A connection that was lost says nothing about that, so the photo is asked after.
async function markGone(photo) {
  const reply = await fetch(photo.src, { method: "HEAD" }).catch(() => null);
  if (reply?.status === 404) photo.replaceWith(el("p", "gone", word("photo-gone")));
}

function drawBy(line) {
  const by = el("p", "by");
  by.append(el("span", "who", line.body.who || word("bot")));
  const time = el("time", "", links.clock.format(line.at_ms));
  time.dateTime = new Date(line.at_ms).toISOString();
  by.append(time);
  if (line.only_me) by.append(el("span", "only", word("only-you")));
  return by;
}

const find = (line, code) =>
  Array.from(line.node.querySelectorAll(".press")).find((node) => node.dataset.code === code);

// Draws a line anew in its place; what the person is at in it (a field, a button) stays under their hands.
export function draw(line) {
  const held = line.node?.contains(document.activeElement) ? document.activeElement : null;
  const heldCode = held?.dataset.code, inField = held?.matches(".ask input");
  const caret = inField ? held.selectionStart : 0;
  line.node ??= el("li");
  line.node.className = "line " + line.body.kind + (line.follows ? " follows" : "");
  line.node.replaceChildren(drawBy(line));
  if (line.body.ok === false) line.node.append(el("p", "refused", word("refused")));
  for (const block of line.body.blocks) line.node.append(drawBlock(line, block) ?? "");
  const field = line.node.querySelector(".ask input");
  if (inField && field) {
    field.focus({ preventScroll: true });
    field.setSelectionRange(caret, caret);
  } else if (heldCode) {
    find(line, heldCode)?.focus({ preventScroll: true });
  }
}
