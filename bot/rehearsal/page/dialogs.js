// The few questions that the page itself asks. Each resolves when its dialog closes.
import { element, get } from "./desk.js";

const dialog = (name) => document.getElementById(name);

function closed(box) {
  box.returnValue = "";
  box.showModal();
  return new Promise((resolve) => box.addEventListener("close", () => resolve(box.returnValue), { once: true }));
}

export function enlarge(url, alt) {
  Object.assign(dialog("picture").querySelector("img"), { src: url, alt });
  return closed(dialog("picture"));
}

export function alertWith(text) {
  document.getElementById("alert-text").textContent = text;
  return closed(dialog("alert"));
}

let cities;
async function fill(select, value) {
  cities ??= await get("/places");
  if (!select.options.length) select.append(...cities.map((city) => element("option", { value: city[value] }, city.name)));
}

export async function askPlace() {
  const box = dialog("places");
  const select = box.querySelector("select");
  await fill(select, "name");
  return (await closed(box)) ? select.value : "";
}

/** Whose phone: {chat} of a client chosen, {name, zone} of somebody new, or null. */
export async function askWhose(clients, invitation) {
  const box = dialog("newcomer");
  const { whose, name, zone } = box.querySelector("form").elements;
  await fill(zone, "zone");
  whose.replaceChildren(element("option", { value: "" }, "Somebody new"), ...clients.map((c) => element("option", { value: c.chat }, c.name)));
  whose.parentElement.hidden = !invitation;
  box.querySelector("h2").textContent = invitation ? "Who opens this invitation?" : "A new phone";
  box.querySelector(".primary").textContent = invitation ? "Open it there" : "Take it in hand";
  const adapt = () => {
    const fresh = !whose.value;
    name.parentElement.hidden = zone.parentElement.hidden = !fresh;
    name.required = fresh;
  };
  whose.onchange = adapt;
  adapt();
  name.value = "";
  if (!(await closed(box))) return null;
  return whose.value ? { chat: Number(whose.value) } : { name: name.value, zone: zone.value };
}
