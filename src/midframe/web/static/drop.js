// A file dropped anywhere on the page goes into the import form.
const form = document.querySelector("form[data-drop]");
const carries = (event) => [...event.dataTransfer?.types ?? []].includes("Files");
addEventListener("dragover", (event) => {
  if (!form || !carries(event)) return;
  event.preventDefault();
  document.body.setAttribute("data-dropping", "");
});
addEventListener("dragleave", (event) => {
  if (!event.relatedTarget) document.body.removeAttribute("data-dropping");
});
addEventListener("drop", (event) => {
  if (!form || !carries(event)) return;
  event.preventDefault();
  document.body.removeAttribute("data-dropping");
  form.querySelector("input[type=file]").files = event.dataTransfer.files;
  form.requestSubmit();
});
