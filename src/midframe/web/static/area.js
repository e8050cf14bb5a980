// An area drawn on a photo fills the four fields of its form, in pixels of the full photo.
const frame = document.querySelector("[data-area]");
const image = frame?.querySelector("img");
const field = (name) => document.getElementById(`f-${name}`);
let from = null;
let mark = null;

function at(event) {
  const box = image.getBoundingClientRect();
  const share = (value, low, length) => Math.min(Math.max((value - low) / length, 0), 1);
  return { x: share(event.clientX, box.left, box.width), y: share(event.clientY, box.top, box.height) };
}

function show(one, other) {
  const left = Math.min(one.x, other.x);
  const top = Math.min(one.y, other.y);
  const right = Math.max(one.x, other.x);
  const bottom = Math.max(one.y, other.y);
  mark ??= frame.appendChild(Object.assign(document.createElement("div"), { className: "mark" }));
  const { offsetWidth: wide, offsetHeight: high, offsetLeft: x, offsetTop: y } = image;
  Object.assign(mark.style, {
    left: `${x + left * wide}px`, top: `${y + top * high}px`,
    width: `${(right - left) * wide}px`, height: `${(bottom - top) * high}px`,
  });
  const width = Number(image.dataset.width || image.naturalWidth);
  const height = Number(image.dataset.height || image.naturalHeight);
  field("left").value = Math.floor(left * width);
  field("top").value = Math.floor(top * height);
  field("right").value = Math.ceil(right * width);
  field("bottom").value = Math.ceil(bottom * height);
}

image?.addEventListener("pointerdown", (event) => {
  from = at(event);
  image.setPointerCapture(event.pointerId);
  event.preventDefault();
});
image?.addEventListener("pointermove", (event) => { if (from) show(from, at(event)); });
image?.addEventListener("pointerup", () => { from = null; });
