// Saves a level at each tap, and keeps it on the phone while there is no signal.
// Without this script each criterion has its own Save.
import { enqueue, flush, refused, waiting } from "./queue.js";

const state = document.getElementById("yard-state");
const held = document.getElementById("yard-held");
const forms = document.querySelectorAll("form[data-yard]");
const handIn = document.querySelector("form[data-yard-hand-in]");
let isSignedOut = false;

const isOfThisList = (entry) => entry.attempt === state.dataset.attempt;
const left = () => waiting().filter(isOfThisList);
const toMend = () => refused().filter(isOfThisList);

async function save(form) {
  if (!new FormData(form).has("level")) return; // a note alone waits for its level
  const { key } = enqueue(form);
  tell(state, state.dataset.sending);
  if (!(await flush()).has(key)) await flush(); // tapped while others were on their way
  report();
}

// A list is final once it is handed in, so nothing of it may wait, or be refused, on this phone.
async function holdBack(event) {
  if (!left().length && !toMend().length) return;
  event.preventDefault();
  const button = event.submitter;
  if (button) button.disabled = true;
  await flush();
  if (left().length) await flush(); // what was tapped meanwhile
  if (button) button.disabled = false;
  report();
  if (!left().length && !toMend().length) handIn.submit();
  else tell(held, `${held.dataset.held} ${state.textContent}`);
}

// What was refused comes first: nobody may take it for saved.
function report() {
  const wrong = toMend(), many = left().length;
  for (const form of forms) {
    const found = wrong.find((entry) => entry.task === form.dataset.task);
    const beside = form.querySelector("[data-refused]");
    beside.classList.toggle("error", Boolean(found));
    tell(beside, found?.text ?? "");
    form.classList.toggle("by-tap", !found); // its Save is there to send it once more
  }
  state.classList.toggle("stop", wrong.length > 0);
  if (wrong.length) {
    const why = [...new Set(wrong.map((entry) => entry.text))].join(" ");
    tell(state, `${state.dataset.refused.replace("{num}", wrong.length)} ${why}`);
  } else if (many) {
    tell(state, isSignedOut ? state.dataset.signedOut : state.dataset.waiting.replace("{num}", many));
  } else {
    tell(state, state.dataset.saved);
    if (held) tell(held, "");
  }
}

function tell(place, text) {
  place.hidden = !text;
  place.textContent = text;
}

// The page that the server made does not know what waits here yet, nor what it refused.
function show(form, entry) {
  const sent = new URLSearchParams(entry.body);
  form.elements.level.value = sent.get("level");
  form.elements.note.value = sent.get("note");
}

for (const form of forms) {
  form.classList.add("by-tap");
  const kept = [...left(), ...toMend()].find((entry) => entry.task === form.dataset.task);
  if (kept) show(form, kept);
  form.addEventListener("change", () => save(form));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    save(form);
  });
}
handIn?.addEventListener("submit", holdBack);
document.addEventListener("queue-changed", ({ detail }) => {
  isSignedOut = [...detail.values()].some((outcome) => outcome.state === "signed-out");
  if (!state.hidden) report();
});
addEventListener("online", flush);
if (left().length || toMend().length) report();
if (waiting().length) flush();
