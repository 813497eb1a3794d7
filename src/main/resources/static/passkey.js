// Passkeys: signing in, making one, and showing that one is there when something is signed. Without a browser that can
// (plain http has none), the buttons stay hidden and the password or PIN does it.

const can = window.isSecureContext && "PublicKeyCredential" in window;

const bytes = (text) => Uint8Array.from(atob(text.replace(/-/g, "+").replace(/_/g, "/")), (c) => c.charCodeAt(0));
const text = (buffer) =>
  btoa(String.fromCharCode(...new Uint8Array(buffer))).replace(/\+/g, "-").replace(/\//g, "_").replace(/=+$/, "");
const known = (ids) => ids.map((id) => ({ type: "public-key", id: bytes(id) }));

async function ask(path, form) {
  const answer = await fetch(path, { method: "POST", body: new URLSearchParams(new FormData(form)) });
  const said = (answer.headers.get("Content-Type") || "").includes("json") ? await answer.json() : {};
  if (!answer.ok) throw new Error(said.problem || "That did not go through. Load the page again.");
  return said;
}

function say(form, message) {
  form.querySelector("[data-passkey-state]").textContent = message;
}

/** Why the device gave nothing, for people. */
function why(error) {
  if (error.name === "NotAllowedError") return "No passkey was used: it was cancelled, took too long, or there is none here.";
  if (error.name === "InvalidStateError") return "This device has a passkey for you already.";
  return error.message;
}

/** The answer of a key to a challenge, as JSON. */
async function prove(options) {
  const credential = await navigator.credentials.get({
    publicKey: {
      challenge: bytes(options.challenge),
      rpId: options.rpId,
      userVerification: "required",
      allowCredentials: known(options.known || []),
    },
  });
  const response = credential.response;
  return JSON.stringify({
    id: credential.id,
    rawId: text(credential.rawId),
    type: credential.type,
    clientExtensionResults: {},
    response: {
      authenticatorData: text(response.authenticatorData),
      clientDataJSON: text(response.clientDataJSON),
      signature: text(response.signature),
      ...(response.userHandle ? { userHandle: text(response.userHandle) } : {}),
    },
  });
}

async function make(options) {
  const credential = await navigator.credentials.create({
    publicKey: {
      challenge: bytes(options.challenge),
      rp: { id: options.rpId, name: "Ferrule" },
      user: { ...options.user, id: bytes(options.user.id) },
      pubKeyCredParams: [-7, -8, -257].map((alg) => ({ type: "public-key", alg })),
      authenticatorSelection: { residentKey: "required", userVerification: "required" },
      excludeCredentials: known(options.known),
    },
  });
  return JSON.stringify({
    id: credential.id,
    rawId: text(credential.rawId),
    type: credential.type,
    clientExtensionResults: {},
    response: {
      attestationObject: text(credential.response.attestationObject),
      clientDataJSON: text(credential.response.clientDataJSON),
      transports: credential.response.getTransports ? credential.response.getTransports() : [],
    },
  });
}

/** Does a form's work with a passkey when its button is pressed, then sends the form. */
function wire(form, button, begin, answer, submitter) {
  button.hidden = false;
  button.addEventListener("click", async () => {
    say(form, "");
    button.disabled = true;
    try {
      const options = await ask(begin, form);
      form.elements.passkey.value = await answer(options);
      for (const field of form.querySelectorAll("input[required]")) field.required = false;
      form.requestSubmit(submitter());
    } catch (error) {
      say(form, why(error));
      button.disabled = false;
    }
  });
}

if (can) {
  for (const button of document.querySelectorAll("[data-passkey]")) {
    const form = button.form;
    const next = () => form.querySelector("button[type=submit]");
    if (button.dataset.passkey === "enter") wire(form, button, "/sign-in/passkey/begin", prove, () => null);
    if (button.dataset.passkey === "sign") wire(form, button, "/account/passkeys/presence", prove, next);
    if (button.dataset.passkey === "make") wire(form, button, "/account/passkeys/begin", make, () => null);
  }
} else {
  for (const note of document.querySelectorAll("[data-passkey-missing]")) note.hidden = false;
}
