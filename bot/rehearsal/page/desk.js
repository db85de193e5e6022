// Asking the server; every refusal arrives as one sentence.

export async function get(path) {
  const answer = await fetch(path);
  if (!answer.ok) throw new Error("This could not be loaded: reload the page.");
  return answer.json();
}

export async function post(path, body = {}) {
  const sent = body instanceof FormData
    ? { method: "POST", body }
    : { method: "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) };
  let answer;
  try {
    answer = await fetch(path, sent);
  } catch {
    throw new Error("The rehearsal does not answer: is it still running in the terminal?");
  }
  const said = await answer.json().catch(() => ({ error: "Something went wrong inside the rehearsal: look at the terminal." }));
  if (!answer.ok) throw new Error(said.error);
  return said.said;
}

/** Make an element: element("p", {className: "note"}, "words", otherElement). */
export function element(name, properties = {}, ...children) {
  const made = Object.assign(document.createElement(name), properties);
  made.append(...children);
  return made;
}
