// What is typed is kept on the device, for each attempt and task, until the server has it.
import { read, remove, write } from "./storage.js";
import { growFor } from "./rows.js";

const OURS = new Set(["csrf_token", "key"]);

const keyOf = ({ attempt, task }) => `coursekit:draft:${attempt}:${task}`;

export const pairsOf = (form) => [...new FormData(form)].filter(([name]) => !OURS.has(name));

export const keep = (form) => write(keyOf(form.dataset), pairsOf(form));

// On a slow line somebody types before this script has come: that is the newest there is.
export function restoreOrKeep(form) {
  if ([...form.elements].some(isTyped)) keep(form);
  else restore(form);
}

function isTyped(control) {
  if (!control.name || OURS.has(control.name)) return false;
  if (control.type === "radio" || control.type === "checkbox") return control.checked !== control.defaultChecked;
  if ("defaultValue" in control) return control.value !== control.defaultValue;
  if (control.tagName !== "SELECT") return false; // a button or a group
  const first = [...control.options].findIndex((option) => option.defaultSelected);
  return control.selectedIndex !== Math.max(first, 0);
}

// Only what was sent is forgotten: what was typed since then stays.
export function forget(entry) {
  const draft = read(keyOf(entry));
  const sent = [...new URLSearchParams(entry.body)].filter(([name]) => !OURS.has(name));
  if (JSON.stringify(draft) === JSON.stringify(sent)) remove(keyOf(entry));
}

function restore(form) {
  const draft = read(keyOf(form.dataset));
  if (!draft || JSON.stringify(draft) === JSON.stringify(pairsOf(form))) return;
  for (const [name] of draft) growFor(form, name);
  const values = new Map();
  for (const [name, value] of draft) values.set(name, [...(values.get(name) ?? []), value]);
  for (const control of form.elements) {
    if (control.name && !OURS.has(control.name)) fill(control, values.get(control.name) ?? []);
  }
}

function fill(control, values) {
  if (control.type === "radio" || control.type === "checkbox") {
    control.checked = values.includes(control.value);
  } else if (control.type !== "hidden" && control.type !== "submit" && control.tagName !== "FIELDSET") {
    control.value = values[0] ?? "";
  }
  const folded = control.closest("details");
  if (folded && values.some((value) => value && value !== "straight")) folded.open = true;
}
