/* The ledger of inserts: a serial is a link to its story; Enter on its cell follows it. */
(function () {
  "use strict";
  const drawn = (window.dashAgGridComponentFunctions = window.dashAgGridComponentFunctions || {});

  drawn.LedgerSerial = function (props) {
    return window.React.createElement(
      "a",
      { href: document.documentElement.dataset.at + "/inserts/" + encodeURIComponent(props.value), tabIndex: -1, className: "serial-link" },
      props.value
    );
  };

  function press(button, pressed) {
    button.setAttribute("aria-pressed", String(pressed));
  }

  document.addEventListener("click", function (event) {
    const set = window.dash_clientside && window.dash_clientside.set_props;
    const factor = event.target.closest("button[data-factor]");
    if (factor) {
      factor.parentElement.querySelectorAll("button").forEach(function (other) {
        press(other, other === factor);
      });
      set("curve-groups", { data: [] });
      set("curve-factor", { data: factor.dataset.factor });
    }
    const group = event.target.closest("button[data-group]");
    if (group) {
      press(group, group.getAttribute("aria-pressed") !== "true");
      const pressed = group.parentElement.querySelectorAll("button[aria-pressed=true]");
      set("curve-groups", { data: Array.from(pressed, (other) => other.dataset.group) });
    }
  });

  /* Which ways the table goes on beyond what is in sight; told by classes, see inserts.css. */
  function tellWays() {
    const shown = document.querySelector(".ledger-shown");
    const across = shown && shown.querySelector(".ag-center-cols-viewport");
    const down = shown && shown.querySelector(".ag-body-viewport");
    if (across && down) {
      const right = across.scrollWidth - across.clientWidth - across.scrollLeft;
      const below = down.scrollHeight - down.clientHeight - down.scrollTop;
      shown.classList.toggle("goes-right", right > 8);
      shown.classList.toggle("goes-below", below > 8);
    }
  }
  document.addEventListener("scroll", tellWays, { capture: true, passive: true });
  window.addEventListener("resize", tellWays);
  setInterval(tellWays, 500); // rows come, go and are searched for

  document.addEventListener("keydown", function (event) {
    if (event.key === "Enter" && event.target.classList.contains("ag-cell")) {
      const link = event.target.querySelector("a.serial-link");
      if (link) {
        link.click();
      }
    }
  });
})();
