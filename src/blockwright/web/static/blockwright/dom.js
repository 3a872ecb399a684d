// Builds elements; no markup is ever parsed from text.

// el("p", {class: "plan"}, "text", other): attributes by name, `on` for listeners, null left out.
export function el(tag, attributes = {}, ...children) {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (value === null || value === undefined || value === false) continue;
    if (name === "on") {
      for (const [event, listener] of Object.entries(value)) made.addEventListener(event, listener);
    } else made.setAttribute(name, value === true ? "" : value);
  }
  made.append(...children.flat(Infinity).filter((child) => child !== null && child !== undefined && child !== false));
  return made;
}

export const button = (text, act, attributes = {}) =>
  el("button", { type: "button", on: { click: act }, ...attributes }, text);

// Of "15+4+4" the last 4.
export const lastPart = (text) => String(text).split("+").at(-1);

// A number with a large minus and plus, or several with pluses between, the last of them stepped.
// `step(value, direction)` gives the next value; `changed(text)` hears every change, typed or stepped.
export function stepper({ label, unit = "", value, step, changed, key, mode = "decimal" }) {
  const id = `field-${key}`;
  const input = el("input", {
    id, value, inputmode: mode, autocomplete: "off", "data-key": id, "aria-describedby": `${id}-unit`,
    on: {
      input: () => changed(input.value),
      focus: () => input.select(),
    },
  });
  const move = (direction) => () => {
    const last = lastPart(input.value);
    input.value = input.value.slice(0, input.value.length - last.length) + step(last, direction);
    changed(input.value);
  };
  const sign = (text, direction, word) => button(text, move(direction), {
    class: "sign", "aria-label": `${word} ${label.toLowerCase()}`, "data-key": `${id}${text}`,
  });
  return el("div", { class: mode === "text" ? "stepper parts" : "stepper" },
    el("label", { for: id }, label, el("span", { class: "unit", id: `${id}-unit` }, unit)),
    sign("−", -1, "Less"), input, sign("+", 1, "More"));
}

// A row of numbered buttons, with what the ends mean.
export function scale({ low, high, lowWord, highWord, chosen, choose, label, key }) {
  const numbers = Array.from({ length: high - low + 1 }, (_, at) => low + at);
  return el("div", { class: "scale", role: "group", "aria-label": label },
    el("div", { class: `numbers of${numbers.length}` }, numbers.map((number) =>
      button(String(number), () => choose(number), {
        "aria-pressed": String(chosen === number), "data-key": `${key}-${number}`,
      }))),
    el("p", { class: "ends" }, el("span", {}, lowWord), el("span", {}, highWord)));
}

// Puts the drawing in place, touching only what differs, and the focus back where it was. The part
// that has the focus stays where it is and the others move around it: moved, it would lose the
// focus and be laid out anew.
export function redraw(place, ...children) {
  const focused = document.activeElement;
  const key = focused?.getAttribute?.("data-key");
  const wanted = children.flat(Infinity).filter(Boolean);
  const staying = new Set(wanted);
  for (const old of [...place.childNodes]) if (!staying.has(old)) old.remove();
  let next = place.firstChild;
  for (const node of wanted) {
    if (node !== next && node.parentNode === place && node.contains(focused)) {
      while (next !== node) {
        const passed = next;
        next = next.nextSibling;
        place.append(passed);
      }
    }
    if (node === next) next = next.nextSibling;
    else place.insertBefore(node, next);
  }
  if (key && !focused.isConnected) {
    place.querySelector(`[data-key="${CSS.escape(key)}"]`)?.focus({ preventScroll: true });
  }
}

// Builds a part anew only when its `signature` changed: what looks the same stays the same element.
// `build` gets the part as it was, to change in place where that is less work for the phone.
export function makeKeeper() {
  const kept = new Map();
  return (name, signature, build) => {
    const text = JSON.stringify(signature);
    const known = kept.get(name);
    if (known?.text !== text) kept.set(name, { text, part: build(known?.part ?? null) });
    return kept.get(name).part;
  };
}

// Writes a text where it differs: an equal one would be laid out again.
export function setText(place, text) {
  if (place.textContent !== text) place.textContent = text;
}
