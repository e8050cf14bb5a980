// Corners and points tapped on the photo fill the two fields, in pixels of the full photo; dots can be dragged,
// or moved with the arrow keys (with Shift ten pixels at a time).
const frame = document.querySelector("[data-marking]");
const image = frame?.querySelector("img");
const tools = document.querySelector("[data-marking-tools]");
const fields = { corners: document.getElementById("f-corners"), points: document.getElementById("f-points") };
const names = ["top left", "top right", "bottom right", "bottom left"];
let mode = "corners";

const size = () => ({
  x: Number(image.dataset.width || image.naturalWidth),
  y: Number(image.dataset.height || image.naturalHeight),
});

function read(kind) {
  return fields[kind].value.split("\n").map((line) => line.trim().split(/[\s,;]+/).map(Number))
    .filter((pair) => pair.length === 2 && pair.every(Number.isFinite));
}

function write(kind, list) {
  fields[kind].value = list.map(([x, y]) => `${Math.round(x * 10) / 10} ${Math.round(y * 10) / 10}`).join("\n");
  draw();
}

function draw() {
  const held = document.activeElement?.dataset?.dot;
  for (const dot of frame.querySelectorAll(".dot")) dot.remove();
  for (const kind of ["corners", "points"]) read(kind).forEach((at, place) => dotOf(kind, at, place));
  if (held) frame.querySelector(`[data-dot="${held}"]`)?.focus();
}

function dotOf(kind, [x, y], place) {
  const dot = document.createElement("button");
  dot.type = "button";
  dot.className = kind === "corners" ? "dot corner" : "dot";
  dot.dataset.dot = `${kind}-${place}`;
  const label = document.createElement("span");
  label.textContent = kind === "corners" ? names[place] ?? "" : String(place + 1);
  dot.append(label);
  dot.setAttribute("aria-label", `${kind === "corners" ? `Corner ${names[place] ?? ""}` : `Point ${place + 1}`}, move with the arrow keys`);
  dot.style.left = `${(x / size().x) * 100}%`;
  dot.style.top = `${(y / size().y) * 100}%`;
  dot.addEventListener("keydown", (event) => nudge(event, kind, place));
  dot.addEventListener("pointerdown", (event) => drag(event, dot, kind, place));
  frame.append(dot);
}

function nudge(event, kind, place) {
  const by = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
  if (!by) return;
  event.preventDefault();
  const step = event.shiftKey ? 10 : 1;
  const list = read(kind);
  list[place] = [list[place][0] + by[0] * step, list[place][1] + by[1] * step];
  write(kind, list);
}

function at(event) {
  const box = image.getBoundingClientRect();
  const share = (value, low, length) => Math.min(Math.max((value - low) / length, 0), 1);
  return [share(event.clientX, box.left, box.width) * size().x, share(event.clientY, box.top, box.height) * size().y];
}

function drag(event, dot, kind, place) {
  event.preventDefault();
  dot.setPointerCapture(event.pointerId);
  const move = (moved) => {
    const [x, y] = at(moved);
    dot.style.left = `${(x / size().x) * 100}%`;
    dot.style.top = `${(y / size().y) * 100}%`;
  };
  dot.addEventListener("pointermove", move);
  dot.addEventListener("pointerup", (last) => {
    const list = read(kind);
    if (Math.hypot(last.clientX - event.clientX, last.clientY - event.clientY) > 3) list[place] = at(last);
    write(kind, list);
  }, { once: true });
}

function choose(kind) {
  mode = kind;
  for (const button of tools.querySelectorAll("[data-do=corners],[data-do=points]")) {
    button.setAttribute("aria-pressed", String(button.dataset.do === kind));
  }
}

image?.addEventListener("click", (event) => {
  const list = read(mode);
  if (mode === "corners" && list.length === 4) return choose("points");
  write(mode, [...list, at(event)]);
  if (mode === "corners" && list.length === 3) choose("points");
  remember();
});

function remember() {
  try { localStorage.setItem(`corners-${frame.dataset.marking}`, fields.corners.value); } catch { /* private mode */ }
}

if (frame) {
  tools.hidden = false;
  tools.addEventListener("click", (event) => {
    const what = event.target.closest("[data-do]")?.dataset.do;
    if (what === "back") write(mode, read(mode).slice(0, -1));
    else if (what) choose(what);
  });
  for (const field of Object.values(fields)) field.addEventListener("change", draw);
  if (!fields.corners.value) {
    try { fields.corners.value = localStorage.getItem(`corners-${frame.dataset.marking}`) ?? ""; } catch { /* private mode */ }
  }
  choose(read("corners").length === 4 ? "points" : "corners");
  if (image.complete) draw(); else image.addEventListener("load", draw);
  frame.closest(".mark-page").querySelector("form").addEventListener("submit", remember);
}
