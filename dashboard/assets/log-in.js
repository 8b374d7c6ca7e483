/* Showing what is typed into the fields of a form that hide it, while its tick is set; sent, it is hidden again, so that a
   browser still knows it for a password. */
(function () {
  "use strict";

  function show(form, shown) {
    form.querySelectorAll("input[autocomplete$='-password']").forEach(function (field) {
      field.type = shown ? "text" : "password";
    });
  }

  document.addEventListener("change", function (event) {
    if (event.target.matches(".log-in-page .shows")) {
      show(event.target.form, event.target.checked);
    }
  });
  document.addEventListener("submit", function (event) {
    if (event.target.matches(".log-in-page form")) {
      show(event.target, false);
    }
  });
  // a browser that comes back to a page may remember the tick
  window.addEventListener("pageshow", function () {
    document.querySelectorAll(".log-in-page .shows").forEach(function (tick) {
      show(tick.form, tick.checked);
    });
  });
})();
