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
  send(form, event.submitter).catch(() => form.submit());
});

async function send(form, button) {
  const answer = await fetch(form.action, { method: "POST", body: new FormData(form, button) });
  if (answer.redirected) {
    go(answer.url);
    return;
  }
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  form.removeAttribute("aria-busy");
  if (answer.status === CANNOT_BE_USED && page.querySelector("main .wrong")) {
    tell(form, page);
  } else {
    document.title = page.title;
    document.querySelector("main").replaceWith(page.querySelector("main"));
    window.htmx?.process(document.querySelector("main"));
    document.querySelector("main").focus();
  }
}

function go(address) {
  const here = location.href.split("#")[0] === address.split("#")[0];
  location.assign(address);
  if (here) location.reload();
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
