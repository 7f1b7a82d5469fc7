// Shows only the controls that the chosen method uses, and reeves the winch's own line.
export function enhanceRig(form) {
  const winchLines = JSON.parse(form.querySelector("[data-winch-lines]")?.dataset.winchLines ?? "null");
  if (!winchLines) return;
  const showFor = () => {
    const method = form.querySelector("input[name=method]:checked")?.value;
    for (const part of form.querySelectorAll("[data-for]")) {
      part.hidden = Boolean(method) && !part.dataset.for.split(" ").includes(method);
    }
  };
  form.addEventListener("change", (event) => {
    showFor();
    const line = winchLines[event.target.value];
    const name = event.target.name ?? "";
    const first = form.elements.namedItem(name.replace(/start$/, "made_of-0"));
    if (name.endsWith("-start") && line && first && !first.value) first.value = line;
  });
  showFor();
}
