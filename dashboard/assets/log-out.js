/* Logging out at a touch; and where a log-in has ended, or a role does not allow what was touched, that is said: what the
   server refuses for it is marked, see dashboard/access/gate.py. */
(function () {
  "use strict";
  const send = window.fetch;
  let leaving = false;

  function toLogIn() {
    if (leaving) {
      return; // what the page asked by itself meanwhile is refused already
    }
    location.assign("/log-in?ended=1&next=" + encodeURIComponent(location.pathname + location.search));
  }

  async function say(answer) {
    const notice = document.createElement("div");
    notice.className = "not-allowed";
    notice.setAttribute("role", "alert");
    notice.textContent = await answer.clone().text();
    document.querySelectorAll(".not-allowed").forEach((one) => one.remove());
    document.querySelector(".frame").prepend(notice);
  }

  window.fetch = async function (address, options) {
    const answer = await send.call(window, address, options);
    if (answer.headers.get("X-Refused") === "log-in") {
      toLogIn();
    } else if (answer.headers.get("X-Refused") === "role") {
      say(answer);
    }
    return answer;
  };

  document.addEventListener("click", async function (event) {
    if (event.target.closest(".log-out")) {
      leaving = true;
      await window.fetch("/log-out", { method: "POST" });
      location.assign("/log-in");
    } else {
      document.querySelectorAll(".not-allowed").forEach((one) => one.remove());
    }
  });
})();
