/* Logging out at a touch; and where a log-in has ended, or a role does not allow what was touched, that is said: what the
   server refuses for it is marked, see dashboard/access/gate.py. A page with something typed on it stays, see typed.js. */
(function () {
  "use strict";
  const send = window.fetch;
  let leaving = false;
  let stays = false;

  async function toLogIn(answer) {
    if (leaving || stays) {
      return; // what the page asked by itself meanwhile is refused already
    }
    if (window.shotlog_typed.open()) {
      stays = true;
      window.shotlog_typed.stay(await answer.clone().text());
      return;
    }
    leaving = true;
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
    if (stays && !leaving) {
      return new Response(null, { status: 401 }); // whoever logs in meanwhile in another window is to sign nothing here
    }
    const answer = await send.call(window, address, options);
    if (answer.headers.get("X-Refused") === "log-in") {
      toLogIn(answer);
      return answer;
    }
    if (!stays) { // an answer that was on its way when the log-in ended took away what was said of that
      window.shotlog_typed.ends(answer.headers.get("X-Log-In-Ends"));
    }
    if (answer.headers.get("X-Refused") === "role") {
      say(answer);
    }
    return answer;
  };

  document.addEventListener("click", async function (event) {
    if (event.target.closest(".log-out")) {
      leaving = true;
      window.shotlog_typed.forget();
      await window.fetch("/log-out", { method: "POST" });
      location.assign("/log-in");
    } else {
      document.querySelectorAll(".not-allowed").forEach((one) => one.remove());
    }
  });
})();
