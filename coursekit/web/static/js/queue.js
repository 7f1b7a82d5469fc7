// Answers wait here until the server has acknowledged them; each is sent once, by its key.
import { forget } from "./drafts.js";
import { freshKey, read, write } from "./storage.js";

const QUEUE = "coursekit:queue";
const REFUSED = "coursekit:refused";
const PATIENCE = 8000;
const RETRY = 5000;

let token = "";
let sending = null;
let retry = 0;

export const waiting = () => read(QUEUE) ?? [];
export const refused = () => read(REFUSED) ?? [];

export function enqueue(form) {
  const body = new URLSearchParams(new FormData(form));
  const key = freshKey();
  body.set("key", key);
  token = body.get("csrf_token") ?? token;
  body.delete("csrf_token");
  const { attempt, task } = form.dataset;
  const entry = { key, attempt, task, url: form.getAttribute("action"), body: String(body) };
  write(QUEUE, [...waiting().filter((other) => !isSame(other, entry)), entry]);
  write(REFUSED, refused().filter((other) => !isSame(other, entry)));
  return entry;
}

export function takeBack(entry) {
  write(QUEUE, waiting().filter((other) => other.key !== entry.key));
}

const isSame = (one, other) => one.attempt === other.attempt && one.task === other.task;

// Resolves to what became of each entry by its key: saved, refused, signed-out or waiting.
export function flush() {
  sending ??= sendAll().finally(() => { sending = null; });
  return sending;
}

async function sendAll() {
  const outcomes = new Map();
  for (const entry of waiting()) {
    const outcome = await send(entry);
    outcomes.set(entry.key, outcome);
    if (outcome.state === "saved") settle(entry, outcome);
    else if (outcome.state === "refused") refuse(entry, outcome.text);
    else break; // no signal, or signed out: the rest keeps its place
  }
  document.dispatchEvent(new CustomEvent("queue-changed", { detail: outcomes }));
  clearTimeout(retry);
  if (waiting().length) retry = setTimeout(flush, RETRY);
  return outcomes;
}

async function send(entry, isSecondTry = false) {
  const body = new URLSearchParams(entry.body);
  body.set("csrf_token", token);
  try {
    const response = await fetch(entry.url, {
      method: "POST",
      headers: { Accept: "application/json" },
      body,
      signal: AbortSignal.timeout(PATIENCE),
    });
    const said = await response.json();
    if (response.ok) return { state: "saved", text: said.said, answered: said.answered };
    if (response.status === 401) return { state: "signed-out" };
    if (said.csrf && !isSecondTry) {
      token = said.csrf;
      return send(entry, true);
    }
    const isPassing = response.status >= 500 || response.status === 429;
    return isPassing ? { state: "waiting" } : { state: "refused", text: said.error };
  } catch {
    return { state: "waiting" };
  }
}

function settle(entry, { answered }) {
  takeBack(entry);
  write(REFUSED, refused().filter((other) => !isSame(other, entry)));
  forget(entry);
  document.dispatchEvent(new CustomEvent("answer-saved", { detail: { ...entry, answered } }));
}

function refuse(entry, text) {
  takeBack(entry);
  write(REFUSED, [...refused().filter((other) => !isSame(other, entry)), { ...entry, text }]);
}
