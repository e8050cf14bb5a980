// What cannot be sent now is not lost: it waits in the outbox under the same key, so that it counts once.
// data-later="Check"   on a form with data-swap: the value is what the list of the outbox calls it
import { put } from "/static/outbox.js";
import { tell } from "/static/swap.js";

const sent = new Map();

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-later][data-swap]")) return;
  const pairs = [...new FormData(form, event.submitter)].filter(([, value]) => typeof value === "string");
  sent.set(form.dataset.swap.slice(1), { form, pairs, pressed: event.submitter });
}, true);

document.addEventListener("unreached", async (event) => {
  const last = sent.get(event.target.id);
  if (!last) return;
  sent.delete(event.target.id);
  const key = last.pairs.find(([name]) => name === "key")?.[1];
  await put({ url: last.form.action, fields: last.pairs, label: last.form.dataset.later, key });
  for (const one of last.form.querySelectorAll("[aria-pressed]")) {
    one.setAttribute("aria-pressed", String(one === last.pressed));
  }
  event.target.setAttribute("data-waits", "");
  tell("Kept here; it is sent when the bench can be reached.");
});
