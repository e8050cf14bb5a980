// Comfort at the refit: a tapped hole shows at once that it was told, also while the bench cannot be reached;
// what waits to be sent is listed; what was unfolded or typed stays so when the block is fetched anew.
import { entries } from "/static/outbox.js";

const unfolded = new Map(), typed = new Map();

document.addEventListener("input", ({ target }) => {
  if (target.id && !target.matches("[type=radio],[type=checkbox]")) typed.set(target.id, target.value);
});

document.addEventListener("submit", (event) => {
  for (const one of event.target.elements) typed.delete(one.id);
  const button = event.submitter;
  if (!button?.matches?.(".hole")) return;
  button.classList.add("sent");
  button.querySelector("small").textContent = "…";
}, true);

document.addEventListener("toggle", (event) => {
  if (event.target.id) unfolded.set(event.target.id, event.target.open);
}, true);

document.addEventListener("swapped", (event) => {
  for (const one of event.target.querySelectorAll("details[id]")) {
    if (unfolded.has(one.id)) one.open = unfolded.get(one.id);
  }
  for (const [id, value] of typed) {
    const field = document.getElementById(id);
    if (field) field.value = value;
  }
  waiting();
});

async function waiting() {
  const place = document.querySelector("#waiting");
  if (!place) return;
  const under = location.pathname.split("/").slice(0, 3).join("/");
  const own = (await entries().catch(() => [])).filter((one) => one.url.startsWith(`${under}/refit/`) || one.url.startsWith(`${under}/pause/`));
  place.replaceChildren(...own.map((one) => Object.assign(document.createElement("li"),
    { textContent: `${one.label || "Entry"}: ${one.aside || "waits to be sent"}` })));
}
document.addEventListener("outbox:changed", waiting);
waiting();
