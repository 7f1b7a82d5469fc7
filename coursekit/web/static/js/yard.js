// Saves a level at each tap, and keeps it on the phone while there is no signal.
// Without this script each criterion has its own Save.
import { enqueue, flush, waiting } from "./queue.js";

const state = document.getElementById("yard-state");

function tell(text) {
  state.hidden = !text;
  state.textContent = text;
}

async function save(form) {
  if (!new FormData(form).has("level")) return; // a note alone waits for its level
  enqueue(form);
  const outcomes = [...(await flush()).values()];
  const refused = outcomes.find((one) => one.state === "refused");
  if (refused) tell(refused.text);
  else if (outcomes.some((one) => one.state === "signed-out")) tell(state.dataset.signedOut);
  else report();
}

function report() {
  const left = waiting().length;
  tell(left ? state.dataset.waiting.replace("{num}", left) : state.dataset.saved);
}

for (const form of document.querySelectorAll("form[data-yard]")) {
  form.classList.add("by-tap");
  form.addEventListener("change", () => save(form));
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    save(form);
  });
}
if (waiting().length) {
  report();
  flush().then(report);
}
document.addEventListener("queue-changed", () => { if (!state.hidden) report(); });
