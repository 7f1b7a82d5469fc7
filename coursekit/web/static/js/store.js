/* Search as you type: asks for the list once typing pauses, drops what is outdated, keeps the address. */
const PAUSE = 200;
const form = document.querySelector("form[data-found]");
const region = document.querySelector("#found");
const state = document.querySelector("#found-state");
let waiting;
let asking;

const address = (path) => {
  const query = new URLSearchParams([...new FormData(form)].filter(([, value]) => value.trim())).toString();
  return query ? `${path}?${query}` : path;
};

const take = (html) => {
  const open = [...region.querySelectorAll("details[open]")].map((part) => part.id);
  region.innerHTML = html;
  for (const id of open) region.querySelector(`#${id}`)?.setAttribute("open", "");
  state.textContent = region.firstElementChild.dataset.said;
};

const find = async () => {
  asking?.abort();
  asking = new AbortController();
  const { signal } = asking;
  try {
    const response = await fetch(address(form.dataset.found), { signal, redirect: "error" });
    if (!response.ok) throw new Error(response.statusText);
    take(await response.text());
    history.replaceState(null, "", address(form.getAttribute("action")));
  } catch {
    if (!signal.aborted) state.textContent = state.dataset.off;
  }
};

form.addEventListener("input", () => {
  clearTimeout(waiting);
  waiting = setTimeout(find, PAUSE);
});
