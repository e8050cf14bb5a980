// Comfort at the bench: the clock ticks, keys choose the move, steppers count, chips and the text field agree.
// A move is queued by outbox.js; here it is told when it was done, and the form is made fresh once it has arrived.
import { entries } from "/static/outbox.js";
import { put } from "/static/swap.js";

const bench = document.querySelector(".bench");
const place = () => bench.dataset.at;
let skew = 0;

// the clock of the server, read from the page; the screen's own may be wrong
function clock() { return document.querySelector("[data-clock]"); }
function synchronise() {
  const shown = clock();
  if (!shown || shown.dataset.read) return;
  skew = Date.parse(shown.dataset.now) - Date.now();
  shown.dataset.read = String(Date.now());
}
function tick() {
  const shown = clock();
  if (!shown?.dataset.read) return;
  const gone = shown.dataset.running === "yes" ? (Date.now() - Number(shown.dataset.read)) / 1000 : 0;
  const whole = Math.floor(Number(shown.dataset.clock) + gone);
  const two = (value) => String(value).padStart(2, "0");
  const hours = Math.floor(whole / 3600);
  const text = `${hours ? `${hours}:${two(Math.floor(whole / 60) % 60)}` : Math.floor(whole / 60)}:${two(whole % 60)}`;
  if (shown.textContent !== text) shown.textContent = text;
}

document.addEventListener("submit", (event) => {
  const at = event.target.elements.namedItem("at");
  if (at) at.value = new Date(Date.now() + skew).toISOString();
  if (event.target.action.endsWith("/bench/clock")) turn(event.target);
}, true);

// the clock answers at once, also while the bench cannot be reached
function turn(form) {
  const shown = clock(), run = form.elements.namedItem("do").value === "go";
  setTimeout(() => {
    const gone = shown.dataset.running === "yes" ? (Date.now() - Number(shown.dataset.read)) / 1000 : 0;
    Object.assign(shown.dataset, { clock: Number(shown.dataset.clock) + gone, read: Date.now(), running: run ? "yes" : "no" });
    form.elements.namedItem("do").value = run ? "pause" : "go";
    form.querySelector("button").textContent = run ? "Pause" : "Go on";
  });
}

// the form
const form = () => document.querySelector("#move-form");
const verb = () => form().elements.namedItem("verb").value;
function picks() { return [...form().querySelectorAll(".picks input")]; }
function shownPick() { return picks().find((one) => one.checked && one.closest(".picks").offsetParent); }
function dirty() {
  const active = document.activeElement;
  return Boolean(verb() || form().elements.namedItem("what").value || document.querySelector("#said").value ||
    form().elements.namedItem("photo").files.length || (active?.matches("#move textarea, #move select, #move details *")));
}

function checked() {
  const what = form().elements.namedItem("what");
  const missing = verb() && verb() !== "note" && !what.value.trim() && !shownPick();
  what.setCustomValidity(missing ? "Choose a part or joint below, or type a name." : "");
}

function prepare() {
  synchronise();
  for (const step of document.querySelectorAll(".step[hidden]")) step.hidden = false;
}

document.addEventListener("click", (event) => {
  const step = event.target.closest(".step");
  if (!step) return;
  const field = document.getElementById(step.dataset.for);
  field.value = Math.max(1, (Number(field.value) || 0) + Number(step.dataset.step));
});

document.addEventListener("input", (event) => {
  if (!event.target.closest?.("#move-form")) return;
  const { name, type } = event.target;
  if (name === "what" && event.target.value) for (const one of picks()) one.checked = false;
  if (type === "radio" && name.startsWith("pick-")) form().elements.namedItem("what").value = "";
  if (name === "photo") {
    const held = event.target.files.length > 0;
    event.target.parentElement.classList.toggle("held", held);
    event.target.previousElementSibling.textContent = held ? "Photo held" : "Photo";
  }
  checked();
});
document.addEventListener("click", (event) => { if (event.target.closest?.(".log-it")) checked(); }, true);

// A name that was just typed can be tapped at once, also before the bench has answered.
let last = null;
document.addEventListener("submit", (event) => {
  if (event.target !== form()) return;
  const typed = form().elements.namedItem("what").value.trim();
  last = { typed, verb: verb() };
}, true);
document.addEventListener("outbox:queued", async (event) => {
  if (!event.target.matches("#move-form")) return;
  const label = event.target.querySelector(".photo");
  label.classList.remove("held");
  label.firstElementChild.textContent = "Photo";
  if (last?.typed) for (const group of event.target.querySelectorAll(".picks")) offer(group, last.typed);
  event.target.querySelector("[name=verb]").focus({ preventScroll: true });
});
function offer(group, name) {
  if ([...group.querySelectorAll(".chip span")].some((one) => one.textContent.toLowerCase() === name.toLowerCase())) return;
  const chip = group.querySelector(".chip")?.cloneNode(true);
  if (!chip) return;
  const input = chip.querySelector("input");
  input.value = name;
  input.checked = false;
  chip.querySelector("span").textContent = name;
  group.querySelector("legend").after(chip);
}

// The form is made fresh when its move has arrived, but never under a hand that has begun the next one.
async function fresh() {
  if (dirty() || (await entries().catch(() => [])).some((one) => !one.aside)) return;
  try {
    const answer = await fetch(`${place()}?block=move`, { headers: { Swap: "move" }, credentials: "same-origin" });
    const html = await answer.text();
    if (answer.headers.has("Fragment") && !dirty()) put(document.querySelector("#move"), html);
  } catch { /* the bench cannot be reached; the form at hand will do */ }
}
document.addEventListener("outbox:sent", fresh);
document.addEventListener("outbox:queued", () => {  // on a phone the newest line is to be seen above the moves
  if (matchMedia("(max-width:63.99rem)").matches) scrollTo({ top: 0 });
});
document.addEventListener("changed", fresh);
document.addEventListener("swapped", prepare);

// keys: shown beside the moves, switched off in the settings together with their hints
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || event.isComposing) return;
  const typing = event.target.matches("input:not([type=radio],[type=checkbox]),textarea,select");
  if (event.key === "Escape" && event.target.closest("#move-form")) {
    form().reset();
    form().querySelector("[name=verb]").focus();
  }
  if (typing) return;
  const chosen = event.key.length === 1 && document.querySelector(`#move-form [data-key="${CSS.escape(event.key.toLowerCase())}"]`);
  if (!chosen) return;
  event.preventDefault();
  chosen.checked = true;
  chosen.dispatchEvent(new Event("input", { bubbles: true }));
  const next = form().elements.namedItem(chosen.value === "note" ? "note" : "what");
  next.focus();
});

prepare();
setInterval(tick, 250);
