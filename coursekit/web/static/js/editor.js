// A draft is read and solved as somebody types: what the server says of it is put beside the
// form, and beside its fields. The form itself is never redrawn, so focus and caret stay.
// Without this script the button "Try it" does the same.
import { read, write } from "./storage.js";

const PAUSE = 500;
const form = document.querySelector("form[data-try]");
const result = document.getElementById("result");
const state = document.getElementById("draft-state");
let timer = 0;
let isBusy = false;
let isChanged = false;

const say = (text) => {
  if (state.textContent !== text) state.textContent = text;
};

async function send() {
  clearTimeout(timer);
  isChanged = true;
  if (isBusy) return;
  isBusy = true;
  while (isChanged) {
    isChanged = false;
    try {
      await ask();
    } catch {
      say(state.dataset.off);
    }
  }
  isBusy = false;
}

async function ask() {
  const response = await fetch(form.dataset.try, {
    method: "POST",
    body: new URLSearchParams(new FormData(form)),
    headers: { Accept: "application/json" },
    redirect: "error",
  });
  const told = await response.json();
  if (told.csrf) {
    form.elements.csrf_token.value = told.csrf;
    isChanged = true;
  } else if (response.ok) {
    take(told);
  } else {
    say(told.error === "signed-out" ? state.dataset.out : told.error);
  }
}

function take(told) {
  form.elements.seen.value = told.seen;
  const held = result.contains(document.activeElement) ? document.activeElement.getAttribute("href") : null;
  result.innerHTML = told.result;
  if (held) (result.querySelector(`a[href="${CSS.escape(held)}"]`) ?? result).focus();
  document.querySelector("h1").textContent = told.title;
  document.title = `${told.title} · coursekit`;
  for (const old of form.querySelectorAll(".error[id]")) unmark(old);
  for (const [name, messages] of Object.entries(told.beside)) mark(name, messages);
  say(told.summary);
}

const placeOf = (name) => form.elements.namedItem(name) ?? document.getElementById(name);

function unmark(error) {
  const place = placeOf(error.id.replace(/-error$/, ""));
  place?.removeAttribute("aria-invalid");
  place?.removeAttribute("aria-describedby");
  error.remove();
}

function mark(name, messages) {
  const place = placeOf(name);
  if (!place) return;
  const error = document.createElement("p");
  error.className = "error";
  error.id = `${name}-error`;
  error.textContent = `▲ ${messages.join(" ")}`;
  if (place.matches("fieldset, details")) {
    place.firstElementChild.after(error);
  } else {
    place.id = name;
    place.setAttribute("aria-invalid", "true");
    place.setAttribute("aria-describedby", error.id);
    place.closest("label").after(error);
  }
}

// Which parts stand open is remembered on the device, for the next time that the page is made.
const KEY = `coursekit:open:${form.dataset.try}`;
const parts = [...form.querySelectorAll("details.part-of-draft")];
const kept = new Set(read(KEY) ?? []);
for (const part of parts) {
  part.open ||= kept.has(part.id);
  part.addEventListener("toggle", () => write(KEY, parts.filter((each) => each.open).map((each) => each.id)));
}
function showTarget() {
  const target = document.getElementById(decodeURIComponent(location.hash.slice(1)));
  const part = target?.closest("details");
  if (!part) return;
  part.open = true;
  target.scrollIntoView({ block: "center" });
  (target.matches("input, select, textarea") ? target : target.querySelector("input, select, textarea"))?.focus();
}
addEventListener("hashchange", showTarget);
showTarget();

form.addEventListener("input", (event) => {
  if (/^(name|kind):/.test(event.target.name)) return; // of what is not added yet
  clearTimeout(timer);
  timer = setTimeout(send, PAUSE);
});
