// Comfort over plain pages: a marked form or link fetches its answer and puts it in the place of one element.
// data-swap="#id"    on a form or link: what is replaced (its outer HTML)
// data-push          on a link or GET form: the address bar follows
// data-type          on a search form: it is sent as one types
// data-live="URL"    on an element: fetched anew when the stream of its page says that the record changed
// data-hold          beside data-live: not while a field inside holds something typed that was not sent
// data-stand="N"     on such an element: it shows what is there up to this number, nothing older is fetched
// data-stream="URL"  on an element (the main block): that stream of server-sent events
const waits = new WeakMap();

export function tell(text) {
  const told = document.querySelector("[data-told]");
  if (told) told.textContent = text;
}

export function put(target, html) {
  const active = document.activeElement;
  const inside = active && target.contains(active) ? active : null;
  const mark = inside && {
    id: inside.id, name: inside.name, start: inside.selectionStart, end: inside.selectionEnd, value: inside.value,
  };
  const open = [...target.querySelectorAll("details[id][open]")].map((one) => `#${CSS.escape(one.id)}`);
  const holder = document.createElement("template");
  holder.innerHTML = html;
  const fresh = [...holder.content.children];
  target.replaceWith(...holder.content.childNodes);
  for (const root of fresh) open.forEach((id) => root.querySelector(id)?.setAttribute("open", ""));
  if (mark) refocus(fresh, mark);
  for (const element of fresh) {
    element.dispatchEvent(new CustomEvent("swapped", { bubbles: true }));
    const said = element.querySelector("[data-say]") ?? element.closest("[data-say]");
    if (said) tell(said.dataset.say || said.textContent.trim());
  }
  return fresh;
}

function refocus(fresh, mark) {
  for (const root of fresh) {
    const found = (mark.id && root.querySelector(`#${CSS.escape(mark.id)}`)) ||
      (mark.name && root.querySelector(`[name="${CSS.escape(mark.name)}"]`));
    if (!found) continue;
    found.focus({ preventScroll: true });
    try { if (mark.start !== null) found.setSelectionRange(mark.start, mark.end); } catch { /* no text field */ }
    return;
  }
}

export async function swap(target, address, options = {}) {
  const element = typeof target === "string" ? document.querySelector(target) : target;
  if (!element) { location.assign(address); return null; }
  waits.get(element)?.abort();
  const stop = new AbortController();
  waits.set(element, stop);
  element.setAttribute("aria-busy", "true");
  try {
    const answer = await fetch(address, {
      ...options, signal: stop.signal, credentials: "same-origin",
      headers: { ...(options.headers ?? {}), Swap: element.id || "part" },
    });
    if (answer.redirected && !answer.headers.has("Fragment")) { location.assign(answer.url); return null; }
    const text = await answer.text();
    if (!answer.headers.has("Fragment")) { whole(text, answer.url); return null; }
    const fresh = put(element, text);
    if (options.push) history.pushState({ swapped: true }, "", options.push);
    return fresh;
  } catch (error) {
    if (error.name !== "AbortError") {
      element.removeAttribute("aria-busy");
      tell("The bench cannot be reached. What you typed is still here.");
      element.dispatchEvent(new CustomEvent("unreached", { bubbles: true }));
    }
    return null;
  }
}

function whole(text, address) {
  const page = new DOMParser().parseFromString(text, "text/html");
  const main = page.querySelector("main#main");
  if (!main) { location.assign(address); return; } // a document of its own, with its own styles
  put(document.querySelector("main"), main.outerHTML);
  document.title = page.title || document.title;
}

function body(form, button) {
  const data = new FormData(form, button ?? undefined);
  if (form.method !== "get") {
    const plain = form.enctype !== "multipart/form-data";
    return { method: "POST", body: plain ? new URLSearchParams(data) : data };
  }
  return { query: new URLSearchParams(data).toString() };
}

export function submit(form, button) {
  const address = (button && button.formAction && button.hasAttribute("formaction")) ? button.formAction : form.action;
  const { query, ...options } = body(form, button);
  const to = query === undefined ? address : `${address.split("?")[0]}?${query}`;
  if (form.hasAttribute("data-push")) options.push = to;
  return swap(form.dataset.swap, to, options);
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || !form.matches("form[data-swap]")) return;
  event.preventDefault();
  submit(form, event.submitter);
});

document.addEventListener("click", (event) => {
  const link = event.target.closest("a[data-swap]");
  if (!link || event.defaultPrevented || event.button || event.metaKey || event.ctrlKey || event.shiftKey) return;
  event.preventDefault();
  swap(link.dataset.swap, link.href, link.hasAttribute("data-push") ? { push: link.href } : {});
});

let typing = 0;
document.addEventListener("input", (event) => {
  const form = event.target.form;
  if (!form?.matches("form[data-type]")) return;
  clearTimeout(typing);
  typing = setTimeout(() => submit(form), 150);
});

addEventListener("popstate", () => location.reload());

// live: one stream a page; what is marked is fetched anew, but never under a person's hands
const typedIn = (element) => [...element.querySelectorAll("input:not([type=hidden]),textarea")]
  .some((one) => one.value !== one.defaultValue);

function refresh(why) {
  for (const element of document.querySelectorAll("[data-live]")) {
    if (Number(element.dataset.stand) >= Number(why)) continue;
    if (element.contains(document.activeElement) && document.activeElement.matches("input,select,textarea")) continue;
    if (element.hasAttribute("data-hold") && typedIn(element)) continue;
    swap(element, element.dataset.live);
  }
  document.dispatchEvent(new CustomEvent("changed", { detail: why }));
}

function listen() {
  const marked = document.querySelector("[data-stream]");
  if (!marked) return;
  const stream = new EventSource(marked.dataset.stream);
  let seen = marked.dataset.revision;
  stream.addEventListener("revision", (event) => {
    const shown = document.querySelector("[data-revision-shown]");
    if (shown && /^\/r\/[^/]+\/events$/.test(marked.dataset.stream)) shown.textContent = event.data;
    if (event.data !== seen) { seen = event.data; refresh(event.data); }
  });
  addEventListener("pagehide", () => stream.close());
}
listen();

/** The sheet that is open is in sight in the row of sheets, which a phone shows only a part of. */
function showSheet() {
  const row = document.querySelector(".sheets");
  const here = row?.querySelector("[aria-current=page]");
  if (here) row.scrollLeft = here.offsetLeft - (row.clientWidth - here.clientWidth) / 2;
}
showSheet();
