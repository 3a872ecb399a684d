// Letters decided in place: a button or a key sends the letter's form, and the letter that comes
// back takes the place of the one shown. Without this script every button loads the page anew.
const KEYS = { a: "accept", d: "decline", u: "undo" };
let queue = Promise.resolve();
// What was decided last, which undo means wherever one is by then: the line, and of a letter accepted
// at one go the names of all that was still open.
let decided = null;

// Letters decided before stand folded.
const lines = () => [...document.querySelectorAll("[data-line]")].filter((one) => one.checkVisibility());

// A letter come to is read from its head: what it settles stands below its lines.
function go(line) {
  if (!line) return;
  const letter = line.closest("[data-letter]");
  const { top, bottom } = letter.getBoundingClientRect();
  const isCutOff = top < 0 || bottom > innerHeight;
  if (isCutOff && !letter.contains(document.activeElement)) letter.scrollIntoView();
  line.focus({ preventScroll: true });
  line.scrollIntoView({ block: "nearest" });
}

function step(from, by) {
  const all = lines();
  go(all[Math.min(Math.max(all.indexOf(from) + by, 0), all.length - 1)]);
}

function next(from) {
  const all = lines();
  const after = all.slice(all.indexOf(from) + 1);
  return after.find((line) => line.hasAttribute("data-open")) || from;
}

function say(letter, words) {
  const place = letter.querySelector(".rest");
  if (place) place.append(` ${words}`);
}

// What is being typed into other lines while an answer is awaited: open and typed again in the
// letter that came, with the cursor where it was.
function typing(letter, sentLine) {
  const here = document.activeElement;
  const open = [...letter.querySelectorAll("[data-line]:has(details[open])")].filter(({ id }) => id !== sentLine);
  return () => open.forEach((line) => {
    const fold = document.getElementById(line.id)?.querySelector("details");
    if (!fold) return;
    fold.open = true;
    for (const was of line.querySelectorAll("details [name]")) {
      const isChoice = was.type === "radio" || was.type === "checkbox";
      const now = [...fold.querySelectorAll("[name]")]
        .find((one) => one.name === was.name && (!isChoice || one.value === was.value));
      if (!now) continue;
      if (isChoice) now.checked = was.checked;
      else now.value = was.value;
      if (was !== here) continue;
      now.focus({ preventScroll: true });
      if (was.selectionStart != null) now.setSelectionRange(was.selectionStart, was.selectionEnd);
    }
  });
}

async function send(letterId, fill, focused, goesOn) {
  const letter = document.getElementById(letterId);
  const form = letter && letter.querySelector("[name=revision]")?.form;
  if (!form) return;
  const body = new FormData(form);
  if (!fill(body, letter)) return;
  let answer;
  try {
    answer = await fetch(form.action, {
      method: "POST", body, credentials: "same-origin", headers: { "X-Letter": "alone" },
    });
  } catch {
    say(letter, "No signal: nothing was stored.");
    return;
  }
  if (![200, 409, 422].includes(answer.status)) {
    location.reload();
    return;
  }
  const part = new DOMParser().parseFromString(await answer.text(), "text/html");
  const fresh = part.querySelector("[data-letter]");
  if (!fresh) {
    location.reload();
    return;
  }
  const here = document.activeElement;
  const inside = letter.contains(here) ? (here.closest("[data-line]") || {}).id || focused : null;
  const typedAgain = typing(letter, focused);
  letter.replaceWith(fresh);
  // On the letter's own page what was decided stands below it, with the way to the next sheet.
  const decided = part.querySelector("#decided");
  document.getElementById("decided")?.remove();
  if (decided) fresh.after(decided);
  ready(fresh);
  if (document.querySelector("[data-letter] ~ [data-letter]") && !document.querySelector("[data-open]")) say(fresh, "No letter waits any more.");
  const failed = answer.status !== 200;
  if (failed) fresh.querySelector("[role=alert]")?.scrollIntoView({ block: "center" });
  const line = document.getElementById(inside) || fresh.querySelector("[data-line]");
  if (failed && !here.matches("input, select, textarea")) go(document.getElementById(focused) || line);
  else if (inside) go(goesOn && !failed ? next(line) : line);
  typedAgain();
}

function sent(letter, fill, focused, goesOn = false) {
  const id = letter.id;
  queue = queue.then(() => send(id, fill, focused, goesOn));
}

// The names of a button are read when its turn comes: an earlier answer may have changed them, or
// be awaited yet.
function press(line, name, names = null) {
  const letter = line.closest("[data-letter]");
  if (name !== "undo" && !line.querySelector(`button[name=${name}]`)) return;
  const id = line.id;
  decided = name === "undo" ? null : { id };
  go(name === "undo" ? line : next(line));
  sent(letter, (body) => {
    const button = document.getElementById(id)?.querySelector(`button[name=${name}]`);
    if (!button) return false;
    // The button speaks for its line; what is half typed below this line or another waits.
    for (const one of button.closest("[data-letter]").querySelectorAll("[data-line] details [name]")) body.delete(one.name);
    body.set(name, names?.() ?? button.value);
    return true;
  }, id);
}

function rest(letter) {
  if (!letter.querySelector("[name=accept_all]")) return;
  const own = lines().filter((line) => letter.contains(line));
  go(next(own[own.length - 1]));
  const last = { id: own[0]?.id };
  decided = last;
  sent(letter, (body, now) => {
    last.names = [...now.querySelectorAll("button[name=accept]")].map(({ value }) => value).join(" ");
    body.set("accept_all", "yes");
    return true;
  }, own[0]?.id);
}

function change(line) {
  const fold = line.querySelector("details");
  fold.open = true;
  const field = fold.querySelector("[name^=value-], [name^=words-]");
  const radio = fold.querySelector("[value=changed]");
  if (radio) radio.checked = true;
  line.scrollIntoView({ block: "nearest" });
  field?.focus();
}

// Nothing of what was typed below a line is left, as if it had not been opened.
function leave(line) {
  const fold = line.querySelector("details");
  for (const one of fold.querySelectorAll("[name]")) {
    if (one.matches("select")) for (const each of one.options) each.selected = each.defaultSelected;
    else if (one.type === "radio") one.checked = one.defaultChecked;
    else one.value = one.defaultValue;
  }
  fold.open = false;
  go(line);
}

document.addEventListener("submit", (event) => {
  const letter = event.target.closest("[data-letter]");
  if (!letter || !event.target.querySelector("[name=revision]")) return;
  event.preventDefault();
  const button = event.submitter;
  // Enter in a field presses the form's first button, which stands in no line.
  const line = (button?.matches(".enter") ? document.activeElement : button)?.closest("[data-line]");
  if (line && Object.values(KEYS).includes(button.name)) press(line, button.name);
  else if (button?.name === "accept_all") rest(letter);
  else {
    decided = line ? { id: line.id } : null;
    sent(letter, () => true, line?.id, true);
  }
});

document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey) return;
  const line = event.target.closest?.("[data-line]");
  if (!line) return;
  if (event.target.closest("input, select, textarea")) {
    if (event.key === "Escape") leave(line);
    return;
  }
  const key = event.key.toLowerCase();
  if (key === "arrowdown" || key === "j") step(line, 1);
  else if (key === "arrowup" || key === "k") step(line, -1);
  else if (key === "u" && !line.querySelector("[name=undo]")) {
    const last = decided;
    const there = document.getElementById(last?.id);
    if (there) press(there, "undo", () => last.names);
  } else if (KEYS[key]) press(line, KEYS[key]);
  else if (key === "c") change(line);
  else if (key === "r") rest(line.closest("[data-letter]"));
  else return;
  event.preventDefault();
});

document.addEventListener("click", async (event) => {
  const button = event.target.closest("[data-copy]");
  if (!button) return;
  await navigator.clipboard.writeText(document.getElementById(button.dataset.copy).textContent);
  button.textContent = "Copied";
});

function ready(place) {
  if (navigator.clipboard) for (const one of place.querySelectorAll("[data-copy]")) one.hidden = false;
}

ready(document);
for (const hint of document.querySelectorAll(".keys")) hint.hidden = false;
// The page stays at its head where the first open line is in the window.
const first = document.querySelector("[data-line][data-open]");
if (first && document.querySelector(".keys")) {
  if (first.getBoundingClientRect().bottom > innerHeight) go(first);
  else first.focus({ preventScroll: true });
}
