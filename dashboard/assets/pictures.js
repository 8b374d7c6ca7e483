/* Taking a picture: the camera of a phone or tablet, else a file. One that is too large is made smaller before it goes. */
(function () {
  "use strict";
  const PICTURES = document.documentElement.dataset.at + "/pictures/";
  const MOST_BYTES = 8 * 1024 * 1024;
  const MOST_SIDE = 4000;
  const TAKEN = ["image/jpeg", "image/png", "image/webp"];

  /* A phone may take more than is kept, or in a form of its own: then the browser, which can show it, writes it anew. */
  async function fit(file) {
    if (TAKEN.includes(file.type) && file.size <= MOST_BYTES) {
      return file;
    }
    const image = await createImageBitmap(file).catch(function () { return null; });
    if (image === null) {
      return file;
    }
    const scale = Math.min(1, MOST_SIDE / Math.max(image.width, image.height));
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(image.width * scale);
    canvas.height = Math.round(image.height * scale);
    canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
    const made = await new Promise(function (done) { canvas.toBlob(done, "image/jpeg", 0.9); });
    return made || file;
  }

  function signed(query) {
    const asked = new URLSearchParams(query);
    asked.set("initials", window.shotlog_initials());
    return "?" + asked;
  }

  async function ask(address, options) {
    try {
      const answer = await fetch(address, options);
      const told = await answer.json().catch(function () { return { said: "answer " + answer.status }; });
      return { kept: answer.ok, told: told };
    } catch (_error) {
      return { kept: false, told: { said: "the server cannot be reached; nothing was kept, try again" } };
    }
  }

  function say(where, kept, words) {
    const place = where.querySelector(".picture-said");
    place.classList.toggle("refused", !kept);
    place.textContent = (kept ? "\u2713 " : "") + words;
  }

  function show(where, told) {
    const link = document.createElement("a");
    link.href = told.address;
    link.target = "_blank";
    const image = document.createElement("img");
    image.src = told.address;
    image.alt = "Picture: " + told.words;
    link.appendChild(image);
    where.querySelector(".picture-said").appendChild(link);
  }

  async function take(button, file) {
    const where = button.closest(".picture-place");
    say(where, true, "sending the picture");
    const body = await fit(file);
    const sent = { method: "POST", headers: { "Content-Type": body.type || "image/unknown" }, body: body };
    const answer = await ask(PICTURES + signed(button.dataset.picture), sent);
    say(where, answer.kept, answer.told.said);
    if (answer.kept) {
      show(where, answer.told);
    }
  }

  /* Asked first, and what was taken back can be entered again: "Take back", "Yes, take back", "Enter again". */
  async function turn(button) {
    const where = button.closest(".picture");
    if (button.dataset.pictureTurn === "take") {
      label(button, "sure", "Yes, take back");
      return;
    }
    const method = button.dataset.pictureTurn === "again" ? "PUT" : "DELETE";
    const answer = await ask(PICTURES + button.dataset.number + signed(""), { method: method });
    say(where, answer.kept, answer.told.said);
    if (answer.kept) {
      button.dataset.number = answer.told.number;
      label(button, method === "PUT" ? "take" : "again", method === "PUT" ? "Take back" : "Enter again");
    }
  }

  function label(button, next, words) {
    button.dataset.pictureTurn = next;
    button.textContent = words;
    button.setAttribute("aria-label", words + " picture " + button.dataset.number);
  }

  document.addEventListener("click", function (event) {
    const taker = event.target.closest("button[data-picture]");
    if (taker) {
      const input = document.createElement("input");
      input.type = "file";
      input.accept = "image/*";
      input.setAttribute("capture", "environment");
      input.addEventListener("change", function () {
        if (input.files.length) {
          take(taker, input.files[0]);
        }
      });
      input.click();
    }
    const turned = event.target.closest("button[data-picture-turn]");
    if (turned) {
      turn(turned);
    }
  });
})();
