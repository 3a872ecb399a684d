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

export function focused(place) {
  const here = document.activeElement?.closest?.("tr[data-lift] > [data-at]");
  return here && place.contains(here) ? cellOf(here) : null;
}

export function refocus(place, wanted) {
  if (!wanted) return;
  const bodies = [...place.querySelectorAll("table.grid tbody")];
  const body = bodies.find((one) => one.dataset.title === wanted.title);
  const row = body && [...body.querySelectorAll("tr[data-lift]")].find((one) => one.dataset.lift === wanted.lift);
  const cell = row && (wanted.week ? row.querySelector(`td[data-at][data-week="${wanted.week}"]`) : row.querySelector("th"));
  const other = cell || row?.querySelector("th") || body?.querySelector("tr[data-lift] > th") || place.querySelector("[data-act=undo]");
  if (!other) return;
  if (other.matches("[data-at]")) hold(place, other);
  other.focus({ preventScroll: true });
  other.scrollIntoView({ block: "nearest", inline: "nearest" });
}

export function hold(place, cell) {
  for (const one of place.querySelectorAll("table.grid [tabindex='0']")) one.tabIndex = -1;
  cell.tabIndex = 0;
}
