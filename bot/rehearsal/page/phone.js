// One phone: its messages, and what its owner does with it.
import { element, get, post } from "./desk.js";
import { message } from "./message.js";

const NOTICE_FOR = 6000; // milliseconds
const ABOVE = 12; // pixels between the edge and the first new message
const QUIET_FOR = 300; // milliseconds in which what was there before is not announced as new

export class Phone {
  /** `page`: complain(error), enlarge(url, alt), alert(text), askPlace(), open(url), arrived(role). */
  constructor(section, page) {
    this.section = section;
    this.page = page;
    this.role = section.dataset.role;
    section.append(document.getElementById("phone").content.cloneNode(true));
    this.find = (selector) => section.querySelector(selector);
    this.log = this.find(".log");
    this.area = this.find("textarea");
    this.find("h2").id = `${this.role}-name`;
    this.person = null;
    this.acted = false; // what its owner has just done is answered in sight, wherever the log stands
    this.aim = null; // {kind: "reply" | "change", message}
    this.#listen();
  }

  get chat() { return this.person?.chat; }

  /** Take another person's phone in hand, or note what has changed about this one. */
  hold(person) {
    const other = person.chat !== this.chat;
    this.person = person;
    this.find("h2").replaceChildren(element("span", { className: "role" }, this.role), element("span", { className: "name" }, person.name));
    this.find(".note").textContent = [person.city, person.note].filter(Boolean).join(" · ");
    if (!other) return;
    this.log.setAttribute("aria-live", "off");
    this.log.setAttribute("aria-label", `Messages on the phone of ${person.name}`);
    this.find(".writing .unseen").textContent = `Message from ${person.name}`;
    this.log.querySelectorAll(".message, .day").forEach((old) => old.remove());
    this.#aimAt(null);
    this.first = true;
  }

  show(news) {
    const atEnd = this.log.scrollHeight - this.log.scrollTop - this.log.clientHeight < 80;
    const added = news.messages.filter((shown) => this.#put(shown));
    for (const id of news.gone) this.#message(id)?.remove();
    this.#days();
    if (this.first) this.find(".earlier").hidden = !news.earlier;
    this.find(".empty").hidden = Boolean(this.log.querySelector(".message"));
    this.find(".shut").hidden = !news.blocked;
    this.find(".composer").hidden = news.blocked;
    this.#keys(news.keyboard);
    this.#more(news);
    for (const notice of news.notices) notice.alert ? this.page.alert(notice.text) : this.#notice(notice.text);
    if (this.first) this.#toEnd();
    else if (added.length && (atEnd || this.acted)) this.#toFirstOf(added);
    else if (added.length) this.find(".below").hidden = false;
    if (added.some((shown) => !shown.mine)) this.acted = false;
    if (!this.first) this.page.arrived(this.role, added.filter((shown) => !shown.mine).length);
    if (this.first) setTimeout(() => this.log.setAttribute("aria-live", "polite"), QUIET_FOR);
    this.first = false;
  }

  shown() { this.#toEnd(); }

  // Showing

  #message(id) { return this.log.querySelector(`[data-id="${id}"]`); }

  /** Whether it was not there before. */
  #put(shown) {
    const old = this.#message(shown.id);
    const made = message(shown, this.person.name, this.#acts());
    made.dataset.day = shown.day;
    if (old) {
      const held = old.contains(document.activeElement);
      old.replaceWith(made);
      if (held) made.focus({ preventScroll: true });
      return false;
    }
    if (!this.first) made.classList.add("fresh-in");
    this.log.append(made);
    return true;
  }

  #days() {
    this.log.querySelectorAll(".day").forEach((old) => old.remove());
    let day = "";
    for (const shown of this.log.querySelectorAll(".message")) {
      if (shown.dataset.day !== day) shown.before(element("p", { className: "day" }, shown.dataset.day));
      day = shown.dataset.day;
    }
  }

  #keys(rows) {
    const made = rows.map((row) => element("div", {}, ...row.map((key) =>
      element("button", { type: "button", onclick: () => (key.location ? this.#place() : this.#say(key.text)) }, key.text))));
    this.find(".keys").replaceChildren(...made);
    this.find(".keys").hidden = !rows.length;
  }

  #more(news) {
    const commands = news.commands.map((c) => this.#item(`/${c.command}`, c.description, () => this.#say(`/${c.command}`)));
    const start = news.started ? [] : [this.#item("/start", "say hello to the bot", () => this.#send("start"))];
    const sticker = this.#item("A sticker", "a waving hand", () => this.#send("sticker"));
    const block = this.#item("Block the bot", "it cannot write here", () => this.#send("block", { blocked: true }));
    this.find(".more ul").replaceChildren(...start, ...commands, sticker, block);
  }

  #item(label, about, onclick) {
    const act = () => { this.find(".more").open = false; this.area.focus(); onclick(); };
    return element("li", {}, element("button", { type: "button", onclick: act }, element("b", {}, label), element("span", {}, about)));
  }

  #notice(text) {
    const line = this.find(".notice");
    line.textContent = text;
    line.hidden = false;
    clearTimeout(this.noticeEnds);
    this.noticeEnds = setTimeout(() => { line.hidden = true; }, NOTICE_FOR);
  }

  #toEnd() {
    this.log.scrollTop = this.log.scrollHeight;
    this.find(".below").hidden = true;
  }

  /** What came begins at the top, however long it is. */
  #toFirstOf(added) {
    const first = this.#message(added[0].id);
    const place = () => {
      if (!first.isConnected) return;
      this.log.scrollTop += first.getBoundingClientRect().top - this.log.getBoundingClientRect().top - ABOVE;
      this.placed = this.log.scrollTop;
      this.find(".below").hidden = this.log.scrollHeight - this.log.scrollTop - this.log.clientHeight < 80;
    };
    place();
    // A picture is as tall as it is only once it has come: until then there may have been no room to scroll.
    for (const image of this.log.querySelectorAll("img")) {
      if (!image.complete) image.addEventListener("load", () => { if (this.log.scrollTop === this.placed) place(); }, { once: true });
    }
  }

  #aimAt(aim) {
    this.aim = aim;
    this.find(".about").hidden = !aim;
    this.find(".about p").textContent = aim ? `${aim.kind === "reply" ? "Replying to" : "Changing"}: ${aim.message.text || aim.message.place || "a file"}` : "";
    if (aim?.kind === "change") this.area.value = aim.message.text;
    if (aim) this.area.focus();
    this.#grow();
  }

  #grow() {
    this.area.style.height = "auto";
    this.area.style.height = `${this.area.scrollHeight + 2}px`;
  }

  // Doing

  #acts() {
    return {
      reply: (shown) => this.#aimAt({ kind: "reply", message: shown }),
      change: (shown) => this.#aimAt({ kind: "change", message: shown }),
      press: (shown, button) => (button.data ? this.#send("press", { message: shown.id, data: button.data }) : this.#open(button.url)),
      enlarge: (shown, alt) => this.page.enlarge(shown.file.url, alt),
      command: (text) => this.#say(text),
      link: (url) => this.page.open(url),
    };
  }

  #open(url) { if (url && !this.page.open(url)) window.open(url, "_blank", "noopener"); }

  async #send(what, body = {}) {
    this.acted = true;
    try {
      await post(`/phones/${this.chat}/${what}`, body);
      return true;
    } catch (error) {
      this.#notice(error.message);
      return false;
    }
  }

  #say(text) { return this.#send("text", { text }); }

  async #submit() {
    const text = this.area.value;
    if (!text.trim()) return this.area.focus();
    const { kind, message: about } = this.aim ?? {};
    const sent = kind === "change"
      ? await this.#send("edit", { message: about.id, text })
      : await this.#send("text", { text, reply_to: about?.id ?? null });
    if (!sent) return undefined;
    this.area.value = "";
    this.#aimAt(null);
    return this.area.focus();
  }

  async #file(input) {
    const [chosen] = input.files;
    if (!chosen) return;
    const form = new FormData();
    form.append("file", chosen);
    form.append("caption", this.area.value);
    const reply = this.aim?.kind === "reply" ? `?reply_to=${this.aim.message.id}` : "";
    if (await this.#send(`file${reply}`, form)) { this.area.value = ""; this.#aimAt(null); }
    input.value = "";
  }

  async #place() {
    const place = await this.page.askPlace();
    if (place) await this.#send("location", { place, reply_to: this.aim?.kind === "reply" ? this.aim.message.id : null });
    this.#aimAt(null);
    this.area.focus();
  }

  async #earlier() {
    const first = this.log.querySelector(".message");
    const older = await get(`/phones/${this.chat}/earlier?before=${first.dataset.id}`);
    const height = this.log.scrollHeight;
    for (const shown of older.messages) {
      const made = message(shown, this.person.name, this.#acts());
      made.dataset.day = shown.day;
      first.before(made);
    }
    this.#days();
    this.find(".earlier").hidden = !older.earlier;
    this.log.scrollTop += this.log.scrollHeight - height;
  }

  #listen() {
    const on = (selector, event, act) => this.find(selector).addEventListener(event, act);
    on(".composer", "submit", (event) => { event.preventDefault(); this.#submit(); });
    on("textarea", "input", () => this.#grow());
    on("textarea", "keydown", (event) => {
      if (event.key === "Enter" && !event.shiftKey && !event.isComposing) { event.preventDefault(); this.#submit(); }
      if (event.key === "Escape" && this.aim) { this.area.value = ""; this.#aimAt(null); }
    });
    on(".about button", "click", () => { if (this.aim.kind === "change") this.area.value = ""; this.#aimAt(null); this.area.focus(); });
    on(".attach input", "change", (event) => this.#file(event.target));
    on(".place", "click", () => this.#place());
    on(".greet", "click", () => this.#send("start"));
    on(".unblock", "click", () => this.#send("block", { blocked: false }));
    on(".earlier", "click", () => this.#earlier());
    on(".below", "click", () => { this.#toEnd(); this.log.focus(); });
    on(".log", "scroll", () => { if (this.log.scrollHeight - this.log.scrollTop - this.log.clientHeight < 20) this.find(".below").hidden = true; });
    on(".more", "keydown", (event) => { if (event.key === "Escape") { this.find(".more").open = false; this.find("summary").focus(); } });
    document.addEventListener("click", (event) => { if (!this.find(".more").contains(event.target)) this.find(".more").open = false; });
  }
}
