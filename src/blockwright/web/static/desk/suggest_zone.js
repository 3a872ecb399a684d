// Offers the browser's own time zone where another, or none, stands in the field.
const field = document.querySelector("#id_zone");
const place = document.querySelector("#zone_here");
const here = Intl.DateTimeFormat().resolvedOptions().timeZone;

if (here && field && place && field.value !== here) {
  const button = document.createElement("button");
  button.type = "button";
  button.className = "plain";
  button.textContent = `Use ${here}, this browser's`;
  button.addEventListener("click", () => {
    field.value = here;
    place.textContent = `${here} is in the field; save it.`;
    field.focus();
  });
  place.append(button);
}
