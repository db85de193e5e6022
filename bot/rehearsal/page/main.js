// The page: two phones and a clock, kept up to date by asking for changes again and again.
import { element, post } from "./desk.js";
import { alertWith, askPlace, askWhose, enlarge } from "./dialogs.js";
import { Phone } from "./phone.js";
import { listenToStrip, say, showClock, showWalls } from "./strip.js";

const INVITATION = /^https:\/\/t\.me\/\w+\?start=([\w-]{1,64})$/;
const RETRY_AFTER = 1500; // milliseconds

const unseen = { coach: 0, client: 0 };
const chosen = { coach: null, client: null };
let people = [];
let asking = new AbortController();
let since = 0;

const page = {
  enlarge,
  askPlace,
  alert: alertWith,
  arrived(role, count) {
    if (document.body.dataset.shown === role) return;
    unseen[role] += count;
    showCounts();
  },
  open(url) {
    const invitation = INVITATION.exec(url);
    if (invitation) openInvitation(invitation[1]);
    return Boolean(invitation);
  },
};
const phones = Object.fromEntries([...document.querySelectorAll(".phone")].map((section) => [section.dataset.role, new Phone(section, page)]));

// Which phones

function take(role, chat) {
  chosen[role] = chat;
  since = 0;
  asking.abort();
}

async function openInvitation(payload) {
  const chat = await newcomer(true);
  if (chat === null) return;
  try { await post(`/phones/${chat}/start`, { payload }); } catch (error) { say(error.message, true); }
}

async function newcomer(invitation) {
  const whose = await askWhose(people.filter((person) => person.role === "client"), invitation);
  if (!whose) return null;
  try {
    const chat = whose.chat ?? await post("/stage/people", whose);
    take("client", chat);
    show("client");
    return chat;
  } catch (error) {
    say(error.message, true);
    return null;
  }
}

function showPeople() {
  for (const role of ["coach", "client"]) {
    const of = people.filter((person) => person.role === role);
    const person = of.find((one) => one.chat === chosen[role]) ?? of[0];
    phones[role].section.hidden = !person;
    if (!person) continue;
    chosen[role] = person.chat;
    phones[role].hold(person);
    fillChoice(role, of);
  }
  showWalls(["coach", "client"].map((role) => phones[role].person).filter(Boolean));
}

function fillChoice(role, of) {
  const { section } = phones[role];
  const one = of.length < 2;
  section.querySelector(".choose").hidden = one;
  section.querySelector(".name").classList.toggle("unseen", !one);
  section.querySelector(".fresh").hidden = role === "coach";
  const select = section.querySelector("select");
  if (document.activeElement !== select) select.replaceChildren(...of.map((one) => element("option", { value: one.chat }, one.name)));
  select.value = chosen[role];
}

// One phone at a time on a small window

function show(role) {
  document.body.dataset.shown = role;
  unseen[role] = 0;
  for (const button of document.querySelectorAll("[data-show]")) button.ariaPressed = String(button.dataset.show === role);
  showCounts();
  phones[role].shown();
}

function showCounts() {
  for (const button of document.querySelectorAll("[data-show]")) {
    const count = unseen[button.dataset.show];
    button.querySelector(".count").textContent = count ? `· ${count} new` : "";
  }
}

// News

async function ask() {
  asking = new AbortController();
  const query = new URLSearchParams({ since });
  for (const chat of Object.values(chosen)) if (chat) query.append("chat", chat);
  const answer = await fetch(`/changes?${query}`, { signal: asking.signal });
  if (!answer.ok) throw new Error("The rehearsal answered with an error: look at the terminal.");
  return answer.json();
}

function takeIn(news) {
  people = news.people;
  const before = { ...chosen };
  showPeople();
  showClock(news.clock);
  for (const phone of Object.values(phones)) if (news.phones[phone.chat]) phone.show(news.phones[phone.chat]);
  // The first answer says who is here; the phones themselves come with the next.
  since = before.coach === chosen.coach && before.client === chosen.client ? news.revision : 0;
}

async function keepUp() {
  for (;;) {
    try {
      takeIn(await ask());
    } catch (error) {
      if (error.name === "AbortError") continue;
      say("The rehearsal does not answer: is it still running in the terminal?", true);
      await new Promise((resolve) => { setTimeout(resolve, RETRY_AFTER); });
    }
  }
}

function welcome() {
  const hint = document.getElementById("hint");
  hint.hidden = localStorage.getItem("understood") === "yes";
  document.getElementById("understood").addEventListener("click", () => {
    localStorage.setItem("understood", "yes");
    hint.hidden = true;
    document.getElementById("next").focus();
  });
}

for (const button of document.querySelectorAll("[data-show]")) button.addEventListener("click", () => show(button.dataset.show));
for (const role of ["coach", "client"]) phones[role].section.querySelector("select").addEventListener("change", (event) => take(role, Number(event.target.value)));
phones.client.section.querySelector(".fresh").addEventListener("click", () => newcomer(false));
listenToStrip();
welcome();
keepUp();
