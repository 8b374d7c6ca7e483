/* What only the browser can know: its mode, and that the server has fallen silent. */
(function () {
  "use strict";
  const SILENT_MS = 6000;
  let heard = Date.now();

  function clock(ms) {
    return new Date(ms).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit", hour12: false });
  }

  setInterval(function () {
    const silent = Date.now() - heard > SILENT_MS;
    if (silent !== document.documentElement.classList.contains("silent")) {
      document.documentElement.classList.toggle("silent", silent);
      const notice = document.getElementById("cut-off");
      if (notice) {
        notice.textContent = silent
          ? "This screen has lost its server. What you see is from " + clock(heard) + " and is not current."
          : "";
      }
    }
  }, 1000);

  window.dash_clientside = Object.assign({}, window.dash_clientside, {
    shotlog: {
      turn: function (_clicks, mode) {
        return mode === "dark" ? "day" : "dark";
      },
      dress: function (mode) {
        document.documentElement.dataset.mode = mode || "day";
        return "";
      },
      heard: function (beat) {
        if (beat !== undefined && beat !== null) {
          heard = Date.now();
        }
        return "";
      },
    },
  });
})();
