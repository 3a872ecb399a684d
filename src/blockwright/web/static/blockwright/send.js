// The calls of docs/sync.md. Every call ends after a while, answered or not.

const LONGEST_MS = 20_000;

export function cookie(name, jar = document.cookie) {
  const found = jar.split("; ").find((part) => part.startsWith(`${name}=`));
  return found === undefined ? "" : decodeURIComponent(found.slice(name.length + 1));
}

// The account signed in here last, by number; "" after signing out. It outlives the sign-in.
export const whoIsIn = () => cookie("person");

async function call(url, options = {}) {
  const ending = new AbortController();
  const timer = setTimeout(() => ending.abort(), LONGEST_MS);
  try {
    const answer = await fetch(url, { ...options, signal: ending.signal, redirect: "error" });
    const body = answer.status === 304 ? null : await answer.json().catch(() => null);
    return { status: answer.status, body, etag: answer.headers.get("ETag") };
  } finally {
    clearTimeout(timer);
  }
}

// One message of the queue; a stale token is read anew and the message sent once more.
export async function sync(events, seen, person) {
  const post = () => call("/api/sync", {
    method: "POST",
    headers: { "Content-Type": "application/json", "X-CSRFToken": cookie("csrftoken") },
    body: JSON.stringify({
      format: "blockwright/sync/1", sent_at: new Date().toISOString(), events, seen, person,
    }),
  });
  const answer = await post();
  if (answer.status !== 403 || answer.body?.error?.code !== "csrf") return answer;
  await home();
  return post();
}

export const home = () => call("/api/phone");

// {status 200: new document, 304: the one the phone has}.
export const sheet = (key, etag) => call(
  `/api/lifters/${key.split("/")[0]}/sheets/${key.split("/").slice(1).join("/")}`,
  etag ? { headers: { "If-None-Match": etag } } : {},
);
