// Comfort for pages that wait for an answer: what is marked with data-again is looked at again after a while.
import { swap } from "/static/swap.js";

const EVERY_MS = 700;

function arm() {
  for (const element of document.querySelectorAll("[data-again]:not([data-armed])")) {
    element.dataset.armed = "";
    setTimeout(() => {
      if (element.isConnected) swap(element.dataset.target, element.dataset.again);
    }, EVERY_MS);
  }
}

document.addEventListener("swapped", arm);
document.addEventListener("unreached", (event) => {
  for (const element of event.target.querySelectorAll?.("[data-armed]") ?? []) delete element.dataset.armed;
  setTimeout(arm, 2000);
});
arm();
