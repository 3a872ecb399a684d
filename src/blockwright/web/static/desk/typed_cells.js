// The cells of the grid: naming one, finding it again in another drawing, giving it the focus.

// Names a cell so that it is found again in another drawing of the grid.
export function cellOf(cell) {
  const row = cell.closest("tr");
  return {
    title: cell.closest("tbody").dataset.title,
    lift: row.dataset.lift,
    week: cell.dataset.week || null,
  };
}

// The cell that has the focus, or the button.
export function focused(place) {
  const here = document.activeElement;
  if (!here || !place.contains(here)) return null;
  const cell = here.closest("tr[data-lift] > [data-at]");
  return cell ? cellOf(cell) : { title: here.closest("tbody")?.dataset.title, act: here.dataset.act };
}

export function rowOf(place, { title, lift }) {
  const body = [...place.querySelectorAll("table.grid tbody")].find((one) => one.dataset.title === title);
  const row = body && [...body.querySelectorAll("tr[data-lift]")].find((one) => one.dataset.lift === lift);
  return { body, row };
}

const inWeek = (row, week) => row?.querySelector(`td[data-at][data-week="${week}"]`);

export const cellAt = (place, wanted) => inWeek(rowOf(place, wanted).row, wanted.week);

export function refocus(place, wanted) {
  if (!wanted) return;
  const { body, row } = rowOf(place, wanted);
  const cell = wanted.week ? inWeek(row, wanted.week) : null;
  const pressed = wanted.act && (wanted.title ? body : place)?.querySelector(`[data-act=${wanted.act}]`);
  const other = pressed || cell || row?.querySelector("th") || body?.querySelector("tr[data-lift] > th")
    || place.querySelector("[data-act=undo]") || place.querySelector("tr[data-lift] > th");
  if (!other) return;
  if (other.matches("tr[data-lift] > [data-at]")) hold(place, other);
  other.focus({ preventScroll: true });
  other.scrollIntoView({ block: "nearest", inline: "nearest" });
}

export function hold(place, cell) {
  for (const one of place.querySelectorAll("table.grid [tabindex='0']")) one.tabIndex = -1;
  cell.tabIndex = 0;
}
