// One message as an element.
import { element } from "./desk.js";
import { words } from "./words.js";

/** `act`: reply(message), change(message), press(message, button), enlarge(message), command(text), link(url). */
export function message(shown, owner, act) {
  const body = element("div", { className: "body" }, ...content(shown, act));
  const article = element("article", { className: shown.mine ? "message mine" : "message", tabIndex: -1 }, margin(shown, act), body);
  article.dataset.id = shown.id;
  article.setAttribute("aria-label", `${shown.mine ? owner : "Keptword"}, ${shown.time}`);
  return article;
}

function margin(shown, act) {
  const side = element("div", { className: "margin" }, element("time", { dateTime: shown.utc }, shown.time));
  if (!shown.mine) side.append(small("Reply", () => act.reply(shown)));
  else if (shown.text && !shown.file) side.append(small("Change", () => act.change(shown)));
  return side;
}

function small(label, onclick) {
  return element("button", { type: "button", className: "quiet", onclick }, label);
}

function content(shown, act) {
  const parts = [];
  if (shown.file) parts.push(file(shown, act));
  const lines = spoken(shown, act);
  if (lines.length) parts.push(element("div", { className: "words" }, ...lines));
  if (shown.buttons.length) parts.push(buttons(shown, act));
  return parts;
}

function spoken(shown, act) {
  const lines = [];
  if (shown.reply) lines.push(element("p", { className: "answered" }, element("span", { className: "unseen" }, "In reply to: "), shown.reply.text));
  if (shown.forwarded) lines.push(element("p", { className: "aside" }, `Passed on from ${shown.forwarded}`));
  if (shown.place) lines.push(element("span", {}, `Place: ${shown.place}`));
  if (shown.text) lines.push(...words(shown.text, shown.entities, act));
  if (shown.edited) lines.push(element("p", { className: "aside" }, "changed since"));
  return lines;
}

function buttons(shown, act) {
  const rows = shown.buttons.map((row) => element("div", {}, ...row.map((button) =>
    element("button", { type: "button", onclick: () => act.press(shown, button) }, button.text))));
  return element("div", { className: "buttons" }, ...rows);
}

function file(shown, act) {
  const { kind, name, url, emoji } = shown.file;
  if (kind === "photo") return photo(shown, act);
  if (kind === "voice") return labelled(element("audio", { controls: true, preload: "none", src: url }), "Voice message");
  if (kind === "video") return labelled(element("video", { controls: true, preload: "none", src: url }), "Video");
  if (kind === "sticker") return element("div", { className: "sticker", role: "img", ariaLabel: `Sticker ${emoji}` }, emoji || "…");
  const size = element("span", {}, `${weight(shown.file.bytes)} · save`);
  return element("a", { className: "paper", href: url, download: name }, element("div", {}, element("strong", {}, name), size));
}

function labelled(player, label) {
  player.setAttribute("aria-label", label);
  return player;
}

function photo(shown, act) {
  const first = shown.text.split("\n")[0];
  const image = element("img", { src: shown.file.url, alt: first ? `Photo: ${first}` : "Photo", width: shown.file.width, height: shown.file.height });
  return element("button", { type: "button", className: "picture", title: "Enlarge", onclick: () => act.enlarge(shown, image.alt) }, image);
}

function weight(bytes) {
  return bytes < 1024 ? `${bytes} bytes` : bytes < 1048576 ? `${Math.round(bytes / 1024)} kB` : `${(bytes / 1048576).toFixed(1)} MB`;
}
