/* Whose initials stand under what is entered here: asked once, kept on this device for every page, changed at a touch. */
(function () {
  "use strict";
  const KEPT = "initials";

  /* The store of that name on every page keeps it in the browser, as a text of JSON. */
  function known() {
    try {
      return String(JSON.parse(window.localStorage.getItem(KEPT)) || "");
    } catch (_error) {
      return "";
    }
  }

  function keep(initials) {
    window.dash_clientside.set_props(KEPT, { data: initials });
    document.querySelectorAll(".who input").forEach(function (one) {
      if (one.value !== initials) {
        one.value = initials;
      }
    });
  }

  function ask(place) {
    const label = document.createElement("label");
    const words = document.createElement("span");
    const field = document.createElement("input");
    words.textContent = "Your initials, kept on this device";
    field.type = "text";
    field.maxLength = 8;
    field.autocomplete = "off";
    field.className = "field";
    field.value = known();
    field.addEventListener("input", function () { keep(field.value); });
    label.className = "labelled";
    label.append(words, field);
    place.append(label);
  }

  new MutationObserver(function () {
    document.querySelectorAll(".who:empty").forEach(ask);
  }).observe(document.documentElement, { childList: true, subtree: true });

  window.shotlog_initials = known;
})();
