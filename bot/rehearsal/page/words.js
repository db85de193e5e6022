// A text with entities as elements. Offsets are UTF-16 units, which is what a string here counts in.
import { element } from "./desk.js";

const TAGS = { bold: "b", italic: "i", underline: "u", strikethrough: "s", code: "code", pre: "pre", blockquote: "blockquote", expandable_blockquote: "blockquote" };

const BLOCKS = new Set(["blockquote", "expandable_blockquote", "pre"]);

/** Build the nodes of text[from, to); `act` has command(text) and link(url), which says whether it took the link. */
export function words(text, entities, act) {
  const all = [...entities].sort((a, b) => a.offset - b.offset || b.length - a.length);
  return between(text, all, 0, text.length, act);
}

function between(text, entities, from, to, act) {
  const nodes = [];
  let at = from;
  while (entities.length && entities[0].offset < to) {
    const entity = entities.shift();
    const end = Math.min(entity.offset + entity.length, to);
    if (end <= at) continue;
    const start = Math.max(entity.offset, at);
    if (start > at) nodes.push(text.slice(at, start));
    const inner = [];
    while (entities.length && entities[0].offset < end) inner.push(entities.shift());
    nodes.push(dressed(entity, text.slice(start, end), between(text, inner, start, end, act), act));
    at = BLOCKS.has(entity.type) && text[end] === "\n" ? end + 1 : end; // a block ends its own line
  }
  if (at < to) nodes.push(text.slice(at, to));
  return nodes;
}

function dressed(entity, plain, inner, act) {
  if (entity.type === "text_link") return link(entity.url, inner, act);
  if (entity.type === "url") return link(plain, inner, act);
  if (entity.type === "spoiler") return spoiler(inner);
  if (entity.type === "bot_command") {
    return element("button", { type: "button", className: "command", onclick: () => act.command(plain) }, ...inner);
  }
  return element(TAGS[entity.type] ?? "span", {}, ...inner);
}

function link(url, inner, act) {
  if (!/^https?:\/\//.test(url)) return element("span", {}, ...inner);
  const anchor = element("a", { href: url, target: "_blank", rel: "noopener noreferrer" }, ...inner);
  anchor.addEventListener("click", (event) => { if (act.link(url)) event.preventDefault(); });
  return anchor;
}

function spoiler(inner) {
  const cover = element("button", { type: "button", className: "spoiler", ariaExpanded: "false", title: "Show what is covered" }, ...inner);
  cover.onclick = () => { cover.ariaExpanded = cover.ariaExpanded === "true" ? "false" : "true"; };
  return cover;
}
