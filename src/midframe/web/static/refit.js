// Comfort at the refit: a tapped hole shows at once that it was told, also while the bench cannot be reached.
document.addEventListener("submit", (event) => {
  const button = event.submitter;
  if (!button?.matches?.(".hole")) return;
  button.classList.add("sent");
  button.querySelector("small").textContent = "…";
}, true);
