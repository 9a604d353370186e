// Improves pages that work without it: a page just written to is read aloud, and a form is not sent twice.
"use strict";

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (form.dataset.sent) {
    event.preventDefault();
    return;
  }
  if (form.method === "post") {
    form.dataset.sent = "yes";
    form.classList.add("htmx-request");
    setTimeout(() => delete form.dataset.sent, 8000);
  }
});

window.addEventListener("pageshow", () => {
  for (const form of document.querySelectorAll("form[data-sent]")) {
    delete form.dataset.sent;
    form.classList.remove("htmx-request");
  }
});
