// Lines are put in order with up and down; the numbers of their places follow.
export function enhanceOrder(root) {
  for (const list of root.querySelectorAll("[data-order]")) {
    const place = (row) => Number(row.querySelector("select").value) || Infinity;
    const rows = [...list.children].sort((one, other) => place(one) - place(other));
    list.append(...rows);
    rows.forEach((row) => addButtons(list, row));
    list.classList.add("by-buttons");
    number(list);
  }
}

function addButtons(list, row) {
  const name = row.querySelector("label").textContent;
  for (const [step, shape, text] of [[-1, "↑", list.dataset.up], [1, "↓", list.dataset.down]]) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "plain small";
    button.textContent = shape;
    button.setAttribute("aria-label", `${text}: ${name}`);
    button.addEventListener("click", () => move(list, row, step, button));
    row.append(button);
  }
}

function move(list, row, step, button) {
  const other = step < 0 ? row.previousElementSibling : row.nextElementSibling;
  if (!other) return;
  if (step < 0) other.before(row);
  else other.after(row);
  number(list);
  button.focus();
  list.dispatchEvent(new Event("input", { bubbles: true }));
}

function number(list) {
  [...list.children].forEach((row, index) => {
    row.querySelector("select").value = String(index + 1);
  });
}
