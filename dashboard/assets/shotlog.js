/* What only the browser can know: what was touched, its mode, and that the server has fallen silent. */
(function () {
  "use strict";
  const SILENT_MS = 6000;
  let heard = Date.now();
  /* Of a page that was not heard since it was opened nothing is known yet, and nothing of it can be out of date. */
  let isNew = true;

  function clock(ms) {
    return new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit", hour12: false });
  }

  function lost() {
    return "This screen has lost its server. What you see is from " + clock(heard) + " and is not current.";
  }

  function asked() {
    return "This page is being asked for, since " + clock(heard) + ". Nothing is known yet of what it will show.";
  }

  setInterval(function () {
    /* A page that nothing on it refreshes hears nothing, and is not out of date for that. */
    if (document.querySelector("[data-still]")) {
      heard = Date.now();
    }
    const silent = Date.now() - heard > SILENT_MS;
    const look = document.documentElement.classList;
    look.toggle("not-heard-yet", silent && isNew);
    if (silent !== look.contains("silent")) {
      look.toggle("silent", silent);
      const notice = document.getElementById("cut-off");
      if (notice) {
        notice.textContent = silent ? (isNew ? asked() : lost()) : "";
      }
    }
  }, 1000);

  function tell(what, arg) {
    window.dash_clientside.set_props("touch", { data: { what: what, arg: arg, at: Date.now() } });
  }

  /* A choice may propose what stands in a field, unless somebody has typed something else there. */
  function propose(button) {
    const name = { name: button.dataset.fills, type: "field" };
    const field = document.getElementById(JSON.stringify(name));
    const proposed = Array.from(button.parentElement.children, (one) => one.dataset.proposes);
    if (field && ["", ...proposed].includes(field.value)) {
      window.dash_clientside.set_props(name, { value: button.dataset.proposes });
    }
  }

  function choose(button) {
    const pressed = button.dataset.toggle !== "true" || button.getAttribute("aria-pressed") !== "true";
    button.parentElement.querySelectorAll("button").forEach(function (other) {
      other.setAttribute("aria-pressed", String(other === button && pressed));
    });
    const value = pressed ? button.dataset.value : "";
    if (button.dataset.fills) {
      propose(button);
    }
    window.dash_clientside.set_props({ type: "choice", name: button.dataset.choice }, { data: value });
  }

  /* A button that unfolds what a small screen has no room for; whatever is touched beside it folds that again. */
  function unfold(button, open) {
    button.setAttribute("aria-expanded", String(open));
  }

  document.addEventListener("click", function (event) {
    const folds = document.querySelectorAll("button.only-narrow[aria-expanded]");
    folds.forEach(function (button) {
      unfold(button, button.contains(event.target) && button.getAttribute("aria-expanded") !== "true");
    });
    const picked = event.target.closest("button[data-choice]");
    if (picked) {
      choose(picked);
    }
    const button = event.target.closest("button[data-what]");
    if (button) {
      tell(button.dataset.what, button.dataset.arg);
    }
  });

  /* A scanner types a serial and ends it with Enter; Escape is the button Back. */
  document.addEventListener("keydown", function (event) {
    if (event.key === "Escape" && document.querySelector(".desk :is(.panel, .asks-who)")) {
      tell("cancel", "");
    }
    const panel = event.target.closest(".panel");
    if (panel && event.key === "Enter" && event.target.matches("input[type=text]")) {
      tell("enter", panel.dataset.arg);
    }
  });

  /* Figures are drawn otherwise where there is no room beside them; the width at which is that of small.css. */
  const small = window.matchMedia("(max-width: 560px)");
  small.addEventListener("change", function () {
    window.dash_clientside.set_props("narrow", { data: small.matches });
  });

  const dark = window.matchMedia("(prefers-color-scheme: dark)");
  let chosen = null;
  function dressed(mode) {
    chosen = mode || null;
    const inks = chosen || (dark.matches ? "dark" : "day");
    document.documentElement.dataset.mode = inks;
    return inks;
  }
  dark.addEventListener("change", function () {
    window.dash_clientside.set_props("inks", { data: dressed(chosen) });
  });
  /* Before anything is drawn. What a person chose is kept by the page itself; a browser may refuse to say it. */
  try {
    dressed(JSON.parse(window.localStorage.getItem("mode")));
  } catch {
    dressed(null);
  }

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    shotlog: {
      narrow: function (_path) {
        return small.matches;
      },
      turn: function (_clicks, inks) {
        return inks === "dark" ? "day" : "dark";
      },
      /* What a person chose on this device; without that what the device itself is set to. */
      dress: function (mode) {
        return dressed(mode);
      },
      title: function (page) {
        heard = Date.now();
        isNew = true;
        document.title = (page && page.props["data-title"]) || "shotlog";
        return "";
      },
      heard: function (beat) {
        if (beat !== undefined && beat !== null) {
          heard = Date.now();
          isNew = false;
        }
        return "";
      },
    },
  });
})();
