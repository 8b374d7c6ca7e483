/* The page of parts and baths: what was touched, and Enter that moves on. A scanner types and ends with Enter. */
(function () {
  "use strict";

  function tell(what, arg) {
    window.dash_clientside.set_props("parts-touch", { data: { do: what, arg: arg || "", at: Date.now() } });
  }

  let opener = null;

  function back() {
    tell("back");
    if (opener) {
      opener.focus();
    }
  }

  document.addEventListener("click", function (event) {
    const button = event.target.closest("button[data-do]");
    if (button && button.dataset.do === "back") {
      back();
    } else if (button) {
      opener = button.dataset.do === "open" ? button : opener;
      tell(button.dataset.do, button.dataset.arg);
    }
    if (event.target.closest(".bench button[data-choice]")) {
      document.querySelector("#parts-form input").focus();
    }
  });

  document.addEventListener("keydown", function (event) {
    const page = event.target.closest(".parts-page");
    if (!page) {
      return;
    }
    const dialog = page.querySelector(".dialog");
    if (event.key === "Escape" && dialog) {
      back();
    }
    const label = event.target.closest("label[data-ends]");
    if (event.key === "Enter" && label) {
      event.preventDefault();
      const ends = label.dataset.ends;
      if (ends && ends !== "stay") {
        tell(ends);
      } else if (!ends) {
        const fields = Array.from((dialog || page.querySelector("#parts-form")).querySelectorAll("input[type=text]"));
        const next = fields[fields.indexOf(event.target) + 1];
        if (next) {
          next.focus();
          next.select();
        }
      }
    }
    if (event.key === "Tab" && dialog) {
      const stops = Array.from(dialog.querySelectorAll("button, input[type=text]"));
      const edge = event.shiftKey ? stops[0] : stops[stops.length - 1];
      if (document.activeElement === edge || !dialog.contains(document.activeElement)) {
        event.preventDefault();
        (document.querySelector(".typed-open .touch") || stops[event.shiftKey ? stops.length - 1 : 0]).focus();
      }
    }
  });
})();
