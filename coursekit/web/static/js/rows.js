// Rows of a list grow in place; without script the same button redraws the form.
export function enhanceRows(root) {
  for (const button of root.querySelectorAll("button[name=add]")) {
    button.addEventListener("click", (event) => {
      const row = grow(button.form, button.value);
      if (!row) return;
      event.preventDefault();
      row.querySelector("select, input")?.focus();
    });
  }
}

// Adds the rows that a name of a kept draft needs: pull-pulleys-1-pieces-0-item and the like.
export function growFor(form, name) {
  let grown = true;
  while (grown && !form.elements.namedItem(name)) {
    grown = listsOf(name).some((list) => rowsOf(form, list) !== null && needs(form, list, name) && grow(form, list));
  }
}

const listsOf = (name) => [...name.matchAll(/-\d+(?=-|$)/g)].map((match) => name.slice(0, match.index));

const rowsOf = (form, list) => form.querySelector(`[data-rows="${CSS.escape(list)}"]`);

function needs(form, list, name) {
  const wanted = Number(name.slice(list.length + 1).split("-", 1)[0]);
  return rowsOf(form, list).children.length <= wanted;
}

function grow(form, list) {
  const rows = rowsOf(form, list);
  const blank = form.querySelector(`template[data-blank="${CSS.escape(list)}"]`);
  if (!rows || !blank) return null;
  const index = rows.children.length;
  const text = blank.innerHTML
    .replaceAll(`${list}-${blank.dataset.index}`, `${list}-${index}`)
    .replaceAll("№", index + 1);
  rows.append(document.createRange().createContextualFragment(text));
  const row = rows.lastElementChild;
  enhanceRows(row);
  return row;
}
