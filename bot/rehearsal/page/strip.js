// The clock strip: everybody's local time, and the ways to move it.
import { element, post } from "./desk.js";

let moves = 0; // under way from this page
const said = document.getElementById("said");

export function say(text, wrong = false) {
  said.textContent = text;
  said.className = wrong ? "said wrong" : "said";
}

export function showWalls(people) {
  document.getElementById("walls").replaceChildren(...people.map(wall));
}

function wall(person) {
  const made = element("div", {},
    element("dt", {}, `${person.name.split(" ")[0]} in ${person.city}`),
    element("dd", { className: "time" }, person.time),
    element("dd", { className: "date" }, person.short));
  made.dataset.role = person.role;
  return made;
}

export function showClock(clock) {
  const play = document.getElementById("play");
  play.ariaPressed = String(clock.playing);
  play.textContent = clock.playing ? "Pause" : "Play";
  for (const button of document.querySelectorAll(".controls button:not(#play)")) button.ariaDisabled = String(clock.moving);
  if (clock.playing && clock.story) say(clock.story);
  if (clock.moving && moves) say("The clock is moving …");
}

export function listenToStrip() {
  document.getElementById("next").addEventListener("click", () => move("/stage/next"));
  for (const button of document.querySelectorAll("[data-hours]")) {
    button.addEventListener("click", () => move("/stage/advance", { hours: Number(button.dataset.hours) }));
  }
  const play = document.getElementById("play");
  play.addEventListener("click", () => ask(() => post("/stage/play", { on: play.ariaPressed !== "true" })));
}

async function move(path, body) {
  moves += 1;
  await ask(async () => {
    try { return await post(path, body); } finally { moves -= 1; }
  }, say);
}

async function ask(what, then = () => {}) {
  try { then(await what()); } catch (error) { say(error.message, true); }
}
