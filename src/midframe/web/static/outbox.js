// The outbox: photos and moves are kept in this browser until the bench has said that it has them.
// data-outbox               on an element of the head: how many wait; opens the list of them
// data-outbox-form="Photo"  on a form: it is queued instead of posted; the value is what the list calls it
// data-outbox-shown="#id"   on such a form: where a line stands for what still waits
// data-outbox-live="URL"    on an element: fetched anew whenever something has arrived
// Needs nothing that plain HTTP lacks: no service worker, no locks, no randomUUID.
import { swap, tell } from "/static/swap.js";

const LONGEST_PX = 2400, QUALITY = 0.85;
const EVERY_MS = 15_000, LEASE_MS = 20_000;
const WAITS = new Set([401, 403, 408, 429]);  // not paired yet, too slow, too often: nothing is wrong with the entry
const tabs = "BroadcastChannel" in window ? new BroadcastChannel("midframe-outbox") : null;
const me = newKey();
let opening = null, running = null, again = false, trouble = "";

export function newKey() {
  return [...crypto.getRandomValues(new Uint8Array(16))].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}

// the queue
function open() {
  opening ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open("midframe-outbox", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("entries", { keyPath: "order", autoIncrement: true });
      asked.result.createObjectStore("lease");
    };
    asked.onsuccess = () => resolve(asked.result);
    asked.onerror = () => { opening = null; reject(asked.error); };
  });
  return opening;
}

async function within(name, mode, act) {
  const base = await open();
  return new Promise((resolve, reject) => {
    const work = base.transaction(name, mode);
    let result;
    act(work.objectStore(name), (value) => { result = value; });
    work.oncomplete = () => resolve(result);
    work.onerror = work.onabort = () => reject(work.error);
  });
}

export function entries() {
  return within("entries", "readonly", (store, give) => {
    store.getAll().onsuccess = (event) => give(event.target.result);
  });
}

export async function put({ url, fields = {}, blob = null, blobName = "photo", label = "", key = newKey() }) {
  const pairs = Array.isArray(fields) ? fields : Object.entries(fields).flatMap(
    ([name, value]) => [].concat(value).map((one) => [name, String(one)]));
  const entry = { key, url: new URL(url, location.href).pathname + new URL(url, location.href).search,
    fields: pairs.filter(([name]) => name !== "key"), blob, blobName, label, at: new Date().toISOString(), aside: "" };
  await within("entries", "readwrite", (store) => { store.add(entry); });
  await changed();
  drain();
  return key;
}

function keep(entry) { return within("entries", "readwrite", (store) => { store.put(entry); }); }
function drop(entry) { return within("entries", "readwrite", (store) => { store.delete(entry.order); }); }

// One tab sends at a time; a lease that is not renewed (a closed tab) runs out.
function lease(until) {
  return within("lease", "readwrite", (store, give) => {
    store.get("send").onsuccess = (event) => {
      const held = event.target.result;
      const mine = !held || held.by === me || held.until < Date.now() || held.until > Date.now() + 2 * LEASE_MS;
      if (mine) store.put({ by: me, until }, "send");
      give(mine);
    };
  });
}

// sending
export function drain() {
  if (running) { again = true; return running; }
  running = work().catch(() => {}).finally(() => {
    running = null;
    if (again) { again = false; drain(); }
  });
  return running;
}

async function work() {
  if (!(await entries()).some((entry) => !entry.aside)) return;
  if (!(await lease(Date.now() + LEASE_MS))) return;
  const renewing = setInterval(() => lease(Date.now() + LEASE_MS), LEASE_MS / 4);
  try {
    for (;;) {
      const entry = (await entries()).find((one) => !one.aside);
      if (!entry || !(await send(entry))) break;
    }
  } finally {
    clearInterval(renewing);
    await lease(0);
    await changed();
  }
}

function request(entry) {
  const body = new FormData();
  for (const [name, value] of entry.fields) body.append(name, value);
  body.append("key", entry.key);
  if (entry.blob) body.append(entry.blobName, entry.blob, entry.blob.name || "photo.jpg");
  return { method: "POST", body, redirect: "manual", credentials: "same-origin",
    headers: { "Idempotency-Key": entry.key, Swap: "outbox" } };
}

// true: this entry is dealt with, go on; false: try again later
async function send(entry) {
  let answer, text;
  try {
    answer = await fetch(entry.url, request(entry));
    text = answer.type === "opaqueredirect" ? "" : await answer.text();
  } catch {
    return halt("The bench cannot be reached");
  }
  const { status } = answer;
  if (answer.ok) {
    trouble = "";
    await drop(entry);
    await changed();
    told("outbox:sent", { key: entry.key, url: entry.url, text, status });
    return true;
  }
  if (status >= 500 || WAITS.has(status)) return halt(said(text) || `The bench answered ${status}`);
  entry.aside = answer.type === "opaqueredirect" ? "The bench sent another page instead of taking this" :
    said(text) || `The bench refused this (${status})`;
  await keep(entry);
  await changed();
  told("outbox:aside", { key: entry.key, url: entry.url, message: entry.aside });
  return true;
}

function halt(why) { trouble = why; return false; }
function told(name, detail) { document.dispatchEvent(new CustomEvent(name, { detail })); }

function said(text) {
  if (!text.includes("<")) return text.trim().slice(0, 500);
  const page = new DOMParser().parseFromString(text, "text/html");
  return (page.querySelector("[role=alert], .fault")?.textContent ?? "").trim().slice(0, 500);
}

export async function shrink(file) {
  try {
    const picture = await createImageBitmap(file, { imageOrientation: "from-image" });
    const scale = Math.min(1, LONGEST_PX / Math.max(picture.width, picture.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.max(1, Math.round(picture.width * scale));
    canvas.height = Math.max(1, Math.round(picture.height * scale));
    const pen = canvas.getContext("2d");
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, canvas.width, canvas.height);
    pen.drawImage(picture, 0, 0, canvas.width, canvas.height);
    picture.close();
    return await new Promise((resolve) => canvas.toBlob((made) => resolve(made ?? file), "image/jpeg", QUALITY));
  } catch {
    return file;  // what this browser cannot decode goes as it is, and the bench says what is wrong with it
  }
}

async function queued(form, button) {
  const data = [...new FormData(form, button ?? undefined)];
  const texts = data.filter(([, value]) => typeof value === "string");
  const photos = data.filter(([, value]) => value instanceof File && value.size);
  const url = button?.getAttribute("formaction") || form.getAttribute("action") || location.href;
  const label = form.dataset.outboxForm;
  if (!photos.length) return put({ url, fields: texts, label });
  for (const [name, file] of photos) {
    await put({ url, fields: texts, label, blob: await shrink(file), blobName: name });
  }
}

document.addEventListener("submit", async (event) => {
  const form = event.target;
  if (event.defaultPrevented || !form.matches("form[data-outbox-form]")) return;
  event.preventDefault();
  form.setAttribute("aria-busy", "true");
  try {
    await queued(form, event.submitter);
    form.reset();
    form.dispatchEvent(new CustomEvent("outbox:queued", { bubbles: true }));
  } catch {
    HTMLFormElement.prototype.submit.call(form);  // no queue in this browser: post it plainly
  } finally {
    form.removeAttribute("aria-busy");
  }
});
// what is seen of it
const element = (name, text = "", more = {}) => Object.assign(document.createElement(name), { textContent: text }, more);
const counted = (count, one, many) => (count ? `${count} ${count === 1 ? one : many}` : "");

async function changed(broadcast = true) {
  const all = await entries();
  const aside = all.filter((entry) => entry.aside).length;
  const waiting = all.length - aside, text = [counted(waiting, "waits to be sent", "wait to be sent"), counted(aside, "was refused", "were refused")]
    .filter(Boolean).join(", ");
  for (const place of document.querySelectorAll("[data-outbox]")) {
    place.hidden = !all.length;
    if (place.textContent === text) continue;
    place.replaceChildren(element("button", text, { type: "button", onclick: list }));
  }
  for (const form of document.querySelectorAll("form[data-outbox-shown]")) lines(form, all);
  if (broadcast) tabs?.postMessage("changed");
  told("outbox:changed", { waiting, aside });
}

function lines(form, all) {
  const own = all.filter((entry) => entry.url.split("?")[0] === new URL(form.action).pathname);
  document.querySelector(form.dataset.outboxShown)?.replaceChildren(...own.map(
    (entry) => element("li", `${entry.label || "Entry"}: ${entry.aside || "waits to be sent"}`)));
}

async function list() {
  const dialog = document.querySelector("dialog.outbox-list") ??
    document.body.appendChild(element("dialog", "", { className: "outbox-list" }));
  dialog.setAttribute("aria-label", "Waiting to be sent");
  const order = element("ol", "", { className: "rows" });
  order.append(...(await entries()).map(row));
  dialog.replaceChildren(element("h2", "Waiting to be sent"),
    element("p", trouble && `${trouble}. It is tried again by itself.`, { className: "faint" }), order, element("button", "Close", { type: "button", onclick: () => dialog.close() }));
  if (!dialog.open) dialog.showModal();
}

function row(entry) {
  const at = entry.at.slice(11, 16);
  const line = element("li", `${entry.label || "Entry"}, ${at} UTC: ${entry.aside || "waits to be sent"}`);
  if (entry.blob) {
    const address = URL.createObjectURL(entry.blob);
    line.append(element("a", "Save the photo", { className: "button quiet", href: address, download: `${entry.key}.jpg` }));
  }
  if (!entry.aside) return line;
  const act = (text, does) => element("button", text, { type: "button", onclick: async () => { await does(); await changed(); list(); } });
  line.append(act("Send again", async () => { await keep({ ...entry, aside: "" }); drain(); }));
  line.append(act("Let go", () => (confirm("Delete this for good?") ? drop(entry) : null)));
  return line;
}

tabs?.addEventListener("message", () => changed(false).catch(() => {}));
document.addEventListener("outbox:sent", () => {
  tell("Sent.");
  for (const place of document.querySelectorAll("[data-outbox-live]")) swap(place, place.dataset.outboxLive);
});
document.addEventListener("outbox:aside", (event) => tell(event.detail.message));
addEventListener("online", drain);
setInterval(drain, EVERY_MS);
changed(false).then(drain, () => {});
