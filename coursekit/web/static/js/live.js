/* Class now keeps itself up to date: asks every two seconds, and takes in what has changed. */
const PAUSE = 2000;
const region = document.querySelector("[data-live]");
const state = document.querySelector("#live-state");
let tag = "";

const say = (text) => {
  if (state.textContent !== text) state.textContent = text;
};

const take = (html) => {
  const held = region.contains(document.activeElement) ? document.activeElement.getAttribute("href") : null;
  region.innerHTML = html;
  const { title } = region.firstElementChild.dataset;
  document.querySelector("h1").textContent = title;
  document.title = `${title} · coursekit`;
  if (held) region.querySelector(`a[href="${CSS.escape(held)}"]`)?.focus();
};

const ask = async () => {
  const headers = tag ? { "If-None-Match": tag } : {};
  const response = await fetch(region.dataset.live, { headers, redirect: "manual" });
  if (response.status === 304) return say("");
  if (!response.ok) return say(state.dataset.out);
  tag = response.headers.get("ETag") ?? "";
  take(await response.text());
  return say("");
};

const keep = async () => {
  if (!document.hidden) {
    try {
      await ask();
    } catch {
      say(state.dataset.off);
    }
  }
  setTimeout(keep, PAUSE);
};

if (region) setTimeout(keep, PAUSE);
