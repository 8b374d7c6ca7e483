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
    document.querySelectorAll(".who-is-kept.of-device").forEach(function (one) { name(one, initials); });
  }

  /* In short, beside the entries, where there is no room for the field. */
  function name(place, initials) {
    place.classList.add("of-device");
    place.textContent = initials ? "by " + initials : "no initials";
  }

  function ask(place) {
    const label = document.createElement("label");
    const words = document.createElement("span");
    const field = document.createElement("input");
    words.textContent = "Your initials, kept on this device";
    field.type = "text";
    field.maxLength = 8;
    field.autocomplete = "off";
    field.placeholder = " ";
    field.className = "field";
    field.value = known();
    field.addEventListener("input", function () { keep(field.value); });
    label.className = "labelled";
    label.append(words, field);
    place.append(label);
    if (place.closest(".asks-who")) {
      field.focus();
    }
  }

  /* Whoever enters without initials has been asked, and is not asked again; heard before the entry itself is sent. */
  document.addEventListener("click", function (event) {
    if (event.target.closest("button.without")) {
      keep("");
    }
  }, true);

  document.addEventListener("keydown", function (event) {
    const asks = event.target.closest(".asks-who");
    if (asks && event.key === "Enter" && event.target.matches("input")) {
      asks.querySelector("button.primary").click();
    }
  });

  new MutationObserver(function () {
    document.querySelectorAll(".who:empty").forEach(ask);
    document.querySelectorAll(".who-is-kept:empty").forEach(function (one) { name(one, known()); });
  }).observe(document.documentElement, { childList: true, subtree: true });

  window.shotlog_initials = known;
})();
