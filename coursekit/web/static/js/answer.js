// Makes the pages of an attempt comfortable and safe to lose signal on.
// Without this script every form still works, and keeps what was typed in every error.
import { keep, restoreOrKeep } from "./drafts.js";
import * as offline from "./offline.js";
import { enhanceOrder } from "./order.js";
import { enqueue, flush, refused, takeBack, waiting } from "./queue.js";
import { enhanceRig } from "./rig.js";
import { enhanceRows } from "./rows.js";
import { read, remove, write } from "./storage.js";

const SAID = "coursekit:said"; // what the server said of the last answer, for the next page
let hasSignal = true;
const saved = new Map(); // what was acknowledged since this page was made: task to number of answers

function enhance(main) {
  for (const form of main.querySelectorAll("form[data-answer]")) {
    enhanceRows(form);
    restoreOrKeep(form);
    enhanceOrder(form);
    enhanceRig(form);
    form.addEventListener("input", () => keep(form));
    form.addEventListener("submit", (event) => submit(event, form));
  }
  main.addEventListener("click", stayWithoutSignal);
  offline.prefetch(main);
  tell(main);
  tick();
  report();
}

async function submit(event, form) {
  if (event.submitter?.name === "add") return; // one more row: the server redraws the form
  event.preventDefault();
  keep(form);
  const button = event.submitter;
  if (button) button.disabled = true;
  const entry = enqueue(form);
  report();
  const outcome = (await flush()).get(entry.key) ?? (await flush()).get(entry.key);
  if (button) button.disabled = false;
  goOn(form, entry, outcome);
}

function goOn(form, entry, outcome) {
  hasSignal = outcome?.state !== "waiting" && outcome !== undefined;
  if (outcome?.state === "saved") {
    write(SAID, outcome.text);
    location.assign(form.dataset.next);
  } else if (!hasSignal && offline.has(form.dataset.next)) {
    enhance(offline.show(form.dataset.next));
  } else if (hasSignal) {
    // The server words what is to be mended, or asks for a sign-in and carries the text.
    takeBack(entry);
    form.submit();
  }
}

function stayWithoutSignal(event) {
  const link = event.target.closest("a[href]");
  if (!link || (hasSignal && navigator.onLine) || !offline.has(link.href)) return;
  event.preventDefault();
  enhance(offline.show(link.href));
}

function tell(main) {
  const text = read(SAID);
  if (!text) return;
  remove(SAID);
  const notice = document.createElement("p");
  notice.className = "notice good";
  notice.setAttribute("role", "status");
  notice.textContent = text;
  main.prepend(notice);
}

function report() {
  const place = document.getElementById("sent");
  if (!place) return;
  const attempt = place.dataset.attempt;
  const mine = waiting().filter((entry) => entry.attempt === attempt);
  const toMend = refused().filter((entry) => entry.attempt === attempt);
  const sent = Math.max(Number(place.dataset.sent), ...saved.values());
  const text = mine.length ? place.dataset.waiting : place.dataset.all;
  place.textContent = text.replace("{sent}", sent).replace("{waiting}", mine.length);
  for (const entry of toMend) {
    const link = document.createElement("a");
    link.href = entry.url;
    link.textContent = place.dataset.refused;
    place.append(" · ", link);
  }
}

function tick() {
  const row = document.querySelector(".steps");
  for (const task of saved.keys()) {
    const state = row?.querySelector(`[data-task="${CSS.escape(task)}"] .state`);
    if (state && !state.textContent.includes("✓")) state.textContent = ` ✓ ${row.dataset.answered}`;
  }
}

document.addEventListener("queue-changed", report);
document.addEventListener("answer-saved", ({ detail }) => {
  if (detail.attempt === document.getElementById("sent")?.dataset.attempt) saved.set(detail.task, detail.answered);
  tick();
});
addEventListener("online", () => { hasSignal = true; flush(); });
addEventListener("popstate", () => {
  if (offline.has(location.href)) enhance(offline.show(location.href, false));
  else location.reload();
});

enhance(document.querySelector("main"));
if (waiting().length) flush();
