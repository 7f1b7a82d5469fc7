// The other tasks of an attempt, held in this page so that it can go on without signal.
const pages = new Map();

export function prefetch(root) {
  if (navigator.connection?.saveData) return;
  for (const link of root.querySelectorAll(".steps a[data-task]")) {
    const url = link.href;
    if (pages.has(url) || url === location.href) continue;
    fetch(url, { headers: { Accept: "text/html" } })
      .then((response) => (response.ok && !response.redirected ? response.text() : null))
      .then((text) => text && pages.set(url, text))
      .catch(() => { /* no signal now: it is asked for again from the next page */ });
  }
}

export const has = (url) => pages.has(new URL(url, location.href).href);

// Shows a held page in place of this one; the caller makes it live again.
export function show(url, push = true) {
  const absolute = new URL(url, location.href).href;
  const parsed = new DOMParser().parseFromString(pages.get(absolute), "text/html");
  document.title = parsed.title;
  document.querySelector("main").replaceWith(document.adoptNode(parsed.querySelector("main")));
  if (push) history.pushState({ held: true }, "", absolute);
  scrollTo(0, 0);
  return document.querySelector("main");
}
