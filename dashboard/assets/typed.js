/* What is typed and not entered outlives the end of a log-in. The page does not leave: it says so, and once the same person
   has logged in again it stands there as it was. It is kept in this tab, from the one to the other; no page with a field for
   a password has this file. */
(function () {
  "use strict";
  const KEPT = "typed";
  const OPENED = ["panel", "parts-form", "parts-dialog"]; /* what a touch fills with fields */
  const ABOUT = { "parts-form": "parts-part", "parts-dialog": "parts-open" }; /* the stores that say what those are about */
  const TOUCH_MS = 30000;
  const touched = new Set();
  let path = "";
  let told = 0;

  function account() {
    const name = document.querySelector("header .who b");
    return name ? name.textContent : "";
  }

  function typed() {
    touched.forEach((field) => field.isConnected || touched.delete(field));
    return Array.from(touched).filter((field) => field.value.trim() !== "");
  }

  function named(id) {
    return id.startsWith("{") ? JSON.parse(id) : id;
  }

  function layout(id) {
    return document.getElementById(id) ? window.dash_component_api.getLayout(named(id)) : undefined;
  }

  function pick(choice, value) {
    return Array.from(document.querySelectorAll("button[data-choice]")).find(function (one) {
      return one.dataset.choice === choice && one.dataset.value === value;
    });
  }

  /* Which button of a choice is pressed, only the buttons themselves know. */
  function pressed(part) {
    if (Array.isArray(part)) {
      return part.map(pressed);
    }
    if (!part || !part.props) {
      return part;
    }
    const props = Object.assign({}, part.props);
    const shown = pick(props["data-choice"], props["data-value"]);
    if (shown) {
      props["aria-pressed"] = shown.getAttribute("aria-pressed");
    }
    props.children = pressed(props.children);
    return Object.assign({}, part, { props: props });
  }

  function keep() {
    const opened = OPENED.filter((one) => layout(one)).map((one) => [one, pressed(layout(one)).props.children || null]);
    const about = opened.map((one) => ABOUT[one[0]]).filter((one) => one);
    const stores = about.map((one) => [one, window.dash_component_api.getLayout(one).props.data || null]);
    const chosen = Array.from(document.querySelectorAll("main button[data-choice][aria-pressed=true]"));
    const picks = chosen.map((one) => [one.dataset.choice, one.dataset.value]);
    const fields = typed().map((one) => [one.id, one.value]);
    const kept = { account: account(), path: path, opened: opened, stores: stores, picks: picks, fields: fields };
    window.sessionStorage.setItem(KEPT, JSON.stringify(kept));
  }

  function forget() {
    window.removeEventListener("pagehide", keep);
    window.sessionStorage.removeItem(KEPT);
  }

  function say(words, small, button, role) {
    hush();
    const notice = document.createElement("div");
    notice.className = "typed-open";
    notice.setAttribute("role", role);
    const sentence = document.createElement("b");
    sentence.textContent = words;
    const more = document.createElement("small");
    more.textContent = small;
    notice.append(sentence, more);
    if (button) {
      button.className = "touch primary";
      notice.append(button);
    }
    document.querySelector(".frame").prepend(notice);
  }

  function hush() {
    document.querySelectorAll(".typed-open").forEach((one) => one.remove());
  }

  function stay(why) {
    const since = new Date().toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hour12: false });
    const link = document.createElement("a");
    link.textContent = "Log in";
    link.href = path;
    say(
      "You are logged out. What you typed is not entered and stays here; log in to enter it.",
      why.trim() + " What else stands here is from " + since + " and is not current.",
      link,
      "alert"
    );
    document.documentElement.classList.add("logged-out");
    keep();
    window.addEventListener("pagehide", keep);
  }

  function touch() {
    told = Date.now();
    window.fetch("/account", { method: "HEAD" });
  }

  function ends(why) {
    const warned = document.querySelector(".typed-open[role=alert]");
    if (!why || typed().length === 0) {
      if (warned) {
        hush();
      }
    } else if (!warned && why === "idle") {
      const button = document.createElement("button");
      button.textContent = "Stay logged in";
      button.addEventListener("click", touch);
      say("You will be logged out within a minute. What you typed is not entered yet.",
        "Nobody has touched this page for long.", button, "alert");
    } else if (!warned) {
      say("You will be logged out within a minute. What you typed is not entered yet: enter it now.",
        "A log-in ends after its longest time, whatever is touched.", null, "alert");
    }
  }

  /* A page fills by and by: each field is put back once it is there. */
  function restore() {
    const kept = JSON.parse(window.sessionStorage.getItem(KEPT) || "null");
    const set = window.dash_clientside.set_props;
    if (!kept || (account() && account() !== kept.account)) {
      forget();
      return;
    }
    const there = location.pathname + location.search === kept.path && kept.opened.every((one) => layout(one[0]));
    if (account() && there) {
      kept.opened.forEach((one) => set(one[0], { children: one[1] }));
      kept.stores.forEach((one) => set(one[0], { data: one[1] }));
      kept.picks.map((one) => pick(one[0], one[1])).forEach(function (one) {
        if (one && one.getAttribute("aria-pressed") !== "true") {
          one.click();
        }
      });
      forget();
      path = kept.path;
      say("What you typed before you were logged out is here again. It is not entered yet.", "", null, "status");
      fill(kept.fields);
    } else {
      setTimeout(restore, 100);
    }
  }

  function fill(fields) {
    const missing = fields.filter(function (one) {
      if (!layout(one[0])) {
        return true;
      }
      window.dash_clientside.set_props(named(one[0]), { value: one[1] });
      const field = document.getElementById(one[0]);
      const folded = field.closest("details");
      if (folded) {
        folded.open = true;
      }
      field.scrollIntoView({ block: "nearest" });
      touched.add(field);
      return false;
    });
    if (missing.length > 0) {
      setTimeout(fill, 100, missing);
    }
  }

  document.addEventListener("input", function (event) {
    if (event.target.matches("main input[type=text][id]") && account()) {
      touched.add(event.target);
      if (!document.documentElement.classList.contains("logged-out")) {
        path = location.pathname + location.search;
      }
      if (Date.now() - told > TOUCH_MS) {
        touch(); /* whoever types is at work, though nothing is asked of the server meanwhile */
      }
    }
  });

  document.addEventListener("click", function () {
    document.querySelectorAll(".typed-open[role=status]").forEach((one) => one.remove());
  });

  window.addEventListener("load", restore);
  window.shotlog_typed = { open: () => typed().length > 0, stay: stay, ends: ends, forget: forget };
})();
