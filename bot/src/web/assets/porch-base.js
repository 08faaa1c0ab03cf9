// What every part of the porch's page uses: its texts, and elements made of them.
// Whatever a person typed reaches the document through textContent alone.

let words = {};

export const setWords = (texts) => { words = texts; };
export const hasWords = () => "porch-title" in words;
export const word = (id) => words["porch-" + id] ?? "porch-" + id;
export const byId = (id) => document.getElementById(id);

export function el(tag, kind, text) {
  const node = document.createElement(tag);
  if (kind) node.className = kind;
  if (text !== undefined) node.textContent = text;
  return node;
}

export function button(kind, text, act) {
  const node = el("button", kind, text);
  node.type = "button";
  node.addEventListener("click", act);
  return node;
}

// One sentence above the line on how things stand; none when all is well.
export function tell(text) {
  byId("state").textContent = text ?? "";
  byId("state").hidden = !text;
}
