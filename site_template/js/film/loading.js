// Loading: a film is played as it comes where the host sends parts of a file; elsewhere it could
// not be moved in, so the whole is fetched first.

// Resolves when the first picture can be shown; `loaded` hears how much is here, from 0 to 1.
export async function bringIn(video, loaded) {
  await globalThis.unsealed?.(video); // on a locked site
  const address = video.getAttribute("src");
  const asItComes = begin(video); // at once: where parts are sent, asking first would only cost time
  asItComes.catch(() => null);
  video.addEventListener("progress", tell);
  const fetched = location.protocol.startsWith("http") && !address.startsWith("blob:");
  const whole = fetched ? await wholeUnlessInParts(address) : null;
  if (whole === null) return asItComes;
  video.removeAttribute("src");
  video.load(); // or the same would come twice
  video.src = URL.createObjectURL(await collect(whole, loaded));
  try {
    await begin(video);
  } catch {
    // This host's own policy lets no page show what it has fetched: the film as it comes.
    video.src = address;
    await begin(video);
  }

  function tell() {
    const { buffered, duration } = video;
    if (buffered.length) loaded(Math.min(1, buffered.end(buffered.length - 1) / duration));
  }
}

// Null where the host answers with the part that was asked for, else its answer with everything.
async function wholeUnlessInParts(address) {
  const answer = await fetch(address, { headers: { Range: "bytes=0-1" } });
  if (!answer.ok) throw new Error(answer.statusText);
  return answer.status === 206 ? null : answer;
}

async function collect(answer, loaded) {
  const bytes = Number(answer.headers.get("Content-Length"));
  const parts = [];
  let here = 0;
  const reader = answer.body.getReader();
  for (let next = await reader.read(); !next.done; next = await reader.read()) {
    parts.push(next.value);
    here += next.value.length;
    if (bytes) loaded(Math.min(1, here / bytes));
  }
  return new Blob(parts, { type: answer.headers.get("Content-Type") ?? "video/mp4" });
}

function begin(video) {
  return new Promise((shown, failed) => {
    video.addEventListener("loadeddata", shown, { once: true });
    video.addEventListener("error", failed, { once: true });
    video.load(); // first: a change of preload begins by itself, and would begin twice
    video.preload = "auto";
  });
}
