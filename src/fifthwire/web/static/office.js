// Improves pages that work without it: what was typed stays where it is when the answer is that it cannot be used, and
// nothing is sent twice.
"use strict";

const CANNOT_BE_USED = 422;

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.method !== "post" || form.hasAttribute("hx-post") || event.defaultPrevented) return;
  event.preventDefault();
  if (form.getAttribute("aria-busy") === "true") return;
  form.setAttribute("aria-busy", "true");
  send(form, event.submitter);
});

async function send(form, button) {
  let answer;
  try {
    answer = await fetch(form.action, { method: "POST", body: new FormData(form, button) });
  } catch {
    form.submit(); // no answer came: the browser says so itself
    return;
  }
  if (answer.redirected && bare(answer.url) !== bare(location.href)) {
    location.assign(answer.url);
    return;
  }
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  form.removeAttribute("aria-busy");
  if (answer.redirected) {
    stay(form, page);
  } else if (answer.status === CANNOT_BE_USED && page.querySelector("main .wrong")) {
    tell(form, page);
  } else {
    show(page);
    document.querySelector("main").focus();
  }
}

// An address without its place in the page and what it says was done.
function bare(address) {
  const at = new URL(address);
  at.searchParams.delete("done");
  at.hash = "";
  return at.href;
}

function show(page) {
  document.title = page.title;
  document.querySelector("main").replaceWith(page.querySelector("main"));
  window.htmx?.process(document.querySelector("main"));
}

// The same page, with what was kept in it: the eyes stay where they are.
function stay(form, page) {
  const place = form.closest("section[id]")?.id;
  show(page);
  const next = (place && document.getElementById(place)) || document.querySelector("main");
  next.tabIndex = -1;
  next.focus({ preventScroll: document.querySelector("main .said") === null });
  document.querySelector("main .said")?.scrollIntoView({ block: "nearest" });
}

// What is wrong, above the form that was sent; the form keeps what was typed.
function tell(form, page) {
  form.querySelector(":scope > .answer")?.remove();
  const place = document.createElement("div");
  place.className = "answer";
  place.tabIndex = -1;
  place.append(...page.querySelectorAll("main .wrong, main table.problems"));
  form.prepend(place);
  place.focus();
  place.scrollIntoView({ block: "center" });
}

window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[aria-busy]")) form.removeAttribute("aria-busy");
});
