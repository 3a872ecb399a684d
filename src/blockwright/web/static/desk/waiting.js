// The waiting page of a search: says what it is at, and goes on when it has ended.
const EVERY_MS = 1500;

async function look() {
  let answer;
  try {
    answer = await fetch(location.href, { credentials: "same-origin", cache: "no-store" });
  } catch {
    return; // no signal: the search goes on without us
  }
  if (answer.redirected) {
    location.replace(answer.url);
    return;
  }
  if (!answer.ok) return;
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  const found = page.getElementById("search");
  if (found && found.dataset.state !== "waiting" && found.dataset.state !== "searching") {
    location.reload();
    return;
  }
  const step = page.getElementById("step");
  const shown = document.getElementById("step");
  if (step && shown && step.textContent !== shown.textContent) shown.textContent = step.textContent;
}

async function watch() {
  for (;;) {
    await new Promise((done) => setTimeout(done, EVERY_MS));
    await look();
  }
}

watch();
