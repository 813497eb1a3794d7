// What is kept on this device, in IndexedDB: who it is and their keys (me), the tasks and drafts that they took along,
// drills under way, and the envelopes that wait to be delivered, which nobody here can read.

const STORES = { me: undefined, tasks: "id", drafts: "id", drills: "sitting", queue: "n", arrived: "n" };

let opening;

function open() {
  opening ??= new Promise((resolve, reject) => {
    const request = indexedDB.open("ferrule", 1);
    request.onupgradeneeded = () => {
      for (const [name, keyPath] of Object.entries(STORES)) {
        request.result.createObjectStore(name, keyPath === "n" ? { keyPath, autoIncrement: true } : keyPath ? { keyPath } : {});
      }
    };
    request.onsuccess = () => {
      // another tab that clears the device does not wait for this one
      request.result.onversionchange = () => request.result.close();
      resolve(request.result);
    };
    request.onerror = () => reject(request.error);
  });
  return opening;
}

const wait = (request) => new Promise((resolve, reject) => {
  request.onsuccess = () => resolve(request.result);
  request.onerror = () => reject(request.error);
});

async function store(name, mode) {
  return (await open()).transaction(name, mode, { durability: "strict" }).objectStore(name);
}

export const get = async (name, key) => wait((await store(name, "readonly")).get(key));
export const all = async (name) => wait((await store(name, "readonly")).getAll());
export const me = () => get("me", "me");

/** Does several changes as one: all of them are kept, on the disk, or none. */
export async function change(names, work) {
  const transaction = (await open()).transaction(names, "readwrite", { durability: "strict" });
  work(Object.fromEntries(names.map((name) => [name, transaction.objectStore(name)])));
  await new Promise((resolve, reject) => {
    transaction.oncomplete = resolve;
    transaction.onabort = transaction.onerror = () => reject(transaction.error);
  });
}

export const put = (name, value) => change([name], (stores) => stores[name].put(value));
export const putMe = (value) => change(["me"], (stores) => stores.me.put(value, "me"));
export const remove = (name, key) => change([name], (stores) => stores[name].delete(key));

/** Changes who is here, from what stands there at that moment. */
export async function changeMe(how) {
  await change(["me"], ({ me: own }) => {
    const request = own.get("me");
    request.onsuccess = () => request.result && own.put({ ...request.result, ...how(request.result) }, "me");
  });
}

/** Changes a draft, from what stands there at that moment; does nothing if it is gone. */
export async function changeDraft(id, how) {
  await change(["drafts"], ({ drafts }) => {
    const request = drafts.get(id);
    request.onsuccess = () => request.result && drafts.put({ ...request.result, ...how(request.result) });
  });
}

/** Removes everything that anybody could read; the sealed envelopes stay, without the words that say what they are. */
export async function forget() {
  const waiting = await all("queue");
  await change(["me", "tasks", "drafts", "drills", "arrived", "queue"], (stores) => {
    ["me", "tasks", "drafts", "drills", "arrived"].forEach((name) => stores[name].clear());
    waiting.forEach((envelope) => stores.queue.put({ ...envelope, label: "" }));
  });
}
