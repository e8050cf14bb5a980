// The timer of a heating: the seconds run here, what to do is told by the bench every few seconds.
import { swap } from "/static/swap.js";

const LOOK_MS = 3000;
let read = performance.now();

const clock = () => document.querySelector("#running [data-seconds]");
const seconds = () => {
  const shown = clock();
  const gone = shown?.hasAttribute("data-runs") ? (performance.now() - read) / 1000 : 0;
  return Number(shown?.dataset.seconds ?? 0) + gone;
};

function tick() {
  const shown = clock();
  if (!shown) return;
  const whole = Math.floor(seconds());
  const hours = Math.floor(whole / 3600), minutes = Math.floor(whole / 60) % 60;
  const two = (value) => String(value).padStart(2, "0");
  const text = hours ? `${hours}:${two(minutes)}:${two(whole % 60)}` : `${minutes}:${two(whole % 60)}`;
  if (shown.textContent !== text) shown.textContent = text;
}

// all of it is looked at anew, readings of other screens with it; under a hand that types only what runs
const typing = () => [...document.querySelectorAll(".timer .reading input:not([type=hidden])")]
  .some((one) => one === document.activeElement || one.value !== one.defaultValue);

async function look() {
  const part = document.querySelector(typing() ? "#running" : "#timer");
  if (part && clock()?.hasAttribute("data-runs") && !document.hidden) await swap(part, part.dataset.look);
  setTimeout(look, LOOK_MS);
}

// the time of a reading is that of the first sign typed, not of the last
document.addEventListener("input", (event) => {
  if (event.target.name !== "shown") return;
  const after = event.target.form.elements.namedItem("seconds");
  if (!event.target.value) after.value = "";
  else if (!after.value) after.value = seconds().toFixed(0);
});

document.addEventListener("swapped", () => { read = performance.now(); tick(); });
setInterval(tick, 200);
setTimeout(look, LOOK_MS);
