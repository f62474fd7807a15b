// Messages to the shop's own system: nothing lost, the same key for every try, and reports never wait for a server.
import { createHmac } from "node:crypto";
import { existsSync } from "node:fs";
import { chmod, mkdir, readFile, rm, writeFile } from "node:fs/promises";
import { createServer } from "node:net";
import { join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { describe, expect, it } from "vitest";
import type { DurableEffects } from "../../src/model/effects.ts";
import { durableEffects } from "../../src/records/durableEffects.ts";
import { openLedger } from "../../src/records/ledger/openLedger.ts";
import { outboxState } from "../../src/records/ledger/outbox.ts";
import { sha256Of } from "../../src/records/readLogs.ts";
import { openWorkspace } from "../../src/records/workspace.ts";
import { pauseMs, sendDue, startMessenger } from "../../src/runs/messenger.ts";
import { nightly } from "../../src/runs/nightly.ts";
import { rebuildLedger } from "../../src/runs/rebuildLedger.ts";
import { runLog } from "../../src/runs/runLog.ts";
import { watch } from "../../src/runs/watch.ts";
import { openProgram } from "../cli/plinth.ts";
import {
  allFiles,
  drain,
  drop,
  faceLog,
  makeWorkspace,
  noBrowser,
  PLAN,
  quickEffects,
  type Told,
} from "./harness.ts";
import { answer, cut, receiver, stall } from "./receiver.ts";

const SECRET = "not for any eye 0815";
const START = Date.parse("2026-11-25T10:00:00Z");

/** A clock that only waiting and `pass` move, so that hours cost nothing and every pause is known. */
function world(environment: Record<string, string> = { PLINTH_SECRET: SECRET }) {
  let ms = START;
  const effects: DurableEffects = {
    ...quickEffects({ PATH: process.env.PATH ?? "", ...environment }),
    now: () => ms,
    ticks: () => ms,
    async sleep(pause) {
      ms += pause;
      await new Promise((resolve) => setImmediate(resolve));
    },
  };
  const pass = (pause: number): void => {
    ms += pause;
  };
  return { effects, now: () => ms, pass };
}
const settingsFor = (url: string, more = ""): string =>
  `notify:\n  - {url: "${url}", secret-env: PLINTH_SECRET, timeout: 300 ms, on: [report, digest]}\n${more}`;

async function shopTelling(url: string, more = ""): Promise<string> {
  const root = await makeWorkspace(PLAN, settingsFor(url, more));
  await drop(root, "a.csv", faceLog());
  return root;
}
async function states(root: string) {
  const ledger = await openLedger(join(root, "plinth.db"));
  try {
    return await outboxState(ledger.tables);
  } finally {
    await ledger.close();
  }
}
const signatureOf = (timestamp: unknown, body: Buffer): string =>
  `sha256=${createHmac("sha256", SECRET).update(`${timestamp}.`).update(body).digest("hex")}`;

describe("a message", () => {
  it("brings sidecar and page as they were written, with key, time and signature", async () => {
    const got = await receiver([answer(204)]);
    const root = await shopTelling(`${got.url}?token=t`);
    const { effects } = world();
    const { told } = await drain(root, { effects });
    expect(told.at(-1)).toBe(`Told ${got.url}: report J-1_10_seat r1.`);
    const [one, ...more] = got.received;
    expect(more).toEqual([]);
    expect(one?.path).toBe("/in?token=t");
    const { body = Buffer.alloc(0), headers = {}, key = "" } = one ?? {};
    expect(key).toMatch(/^[0-9a-f]{32}$/);
    expect(headers["plinth-event"]).toBe("report");
    expect(headers["plinth-timestamp"]).toBe(String(START / 1000 + 1));
    expect(headers["plinth-signature"]).toBe(signatureOf(headers["plinth-timestamp"], body));
    expect(headers["content-length"]).toBe(String(body.length));
    // Read by somebody else's reader of forms.
    const form = await new Response(new Uint8Array(body), {
      headers: { "content-type": headers["content-type"] ?? "" },
    }).formData();
    expect([...form.keys()]).toEqual(["sidecar", "report"]);
    const [sidecar, page] = [form.get("sidecar") as File, form.get("report") as File];
    expect([sidecar.name, sidecar.type]).toEqual(["J-1_10_seat_r1.sidecar.json", "application/json"]);
    expect(page.name).toBe("J-1_10_seat_r1.html");
    const html = await readFile(join(root, "reports", "J-1_10_seat_r1.html"));
    expect(Buffer.from(await page.arrayBuffer()).equals(html)).toBe(true);
    expect(JSON.parse(await sidecar.text())).toMatchObject({
      job: "J-1",
      operation: "10",
      report: "J-1_10_seat",
      revision: 1,
      verdict: "missing",
      html: "J-1_10_seat_r1.html",
      "html-sha256": sha256Of(html),
      "json-sha256": sha256Of(await readFile(join(root, "reports", "J-1_10_seat_r1.json"))),
    });
    expect(await states(root)).toMatchObject([{ target: got.url, sent: 1, owed: 0, refused: [] }]);
  });
  it("brings the PDF where one was printed, and the HTML in place of one that is too large", async () => {
    const got = await receiver([answer(200)]);
    const printing = (bytes: number) => () => ({
      print: async () => Buffer.alloc(bytes, "%PDF-"),
      close: async () => undefined,
    });
    const root = await shopTelling(got.url);
    await drain(root, { effects: world().effects, printer: printing(1000) as never });
    await drop(root, "a.csv", faceLog({ height: 1 }));
    await drain(root, { effects: world().effects, printer: printing(25_000_001) as never });
    const names = got.received.map(
      ({ body }) => /name="report"; filename="([^"]*)"/.exec(body.toString())?.[1],
    );
    expect(names).toEqual(["J-1_10_seat_r1.pdf", "J-1_10_seat_r2.html"]);
    expect(new Set(got.received.map(({ key }) => key)).size).toBe(2);
  });
  it("goes to nobody who does not want it, and is owed to nobody without settings", async () => {
    const got = await receiver([answer(200)]);
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", on: [digest]}\n`);
    await drop(root, "a.csv", faceLog());
    await drain(root, { effects: world().effects });
    expect(got.received).toEqual([]);
    expect(await states(root)).toEqual([]);
  });
});

describe("a target in trouble", () => {
  it("gets the same key and the same bytes again, later each time, until it answers with 2xx; then never again", async () => {
    const { effects, now } = world();
    const fine = answer(200);
    const got = await receiver(
      [
        answer(500, {}, "out\nof\u0007 order"),
        cut,
        stall,
        answer(429),
        answer(408),
        answer(425),
        answer(503),
        fine,
      ],
      { now },
    );
    const root = await shopTelling(got.url);
    const told: string[] = [];
    await drain(root, { effects });
    const workspace = await openWorkspace(effects, root);
    const ledger = await openLedger(join(root, "plinth.db"));
    const log = runLog(effects, workspace.paths, "run", (sentence) => told.push(sentence));
    const messenger = startMessenger({ effects, workspace, ledger, log });
    await got.gets(8);
    while ((await states(root))[0]?.sent !== 1) await wait(5);
    await messenger.stop();
    await sendDue({ effects, workspace, ledger, log }, new AbortController().signal);
    await ledger.close();
    expect(got.received).toHaveLength(8);
    expect(new Set(got.received.map(({ key }) => key)).size).toBe(1);
    expect(new Set(got.received.map(({ body }) => sha256Of(body))).size).toBe(1);
    const pauses = got.received.slice(1).map(({ at }, i) => at - (got.received[i]?.at ?? 0));
    expect(pauses).toEqual([2000, 4000, 8000, 16_000, 32_000, 64_000, 128_000]);
    expect(told[0]).toBe(
      `${got.url} was not told of report J-1_10_seat r1: the connection was cut. It stays owed; next try in 4 s.`,
    );
    expect(told[1]).toContain("no answer within 0.3 s");
    expect(told.at(-1)).toBe(`Told ${got.url}: report J-1_10_seat r1 (try 8).`);
  });
  it("is left in peace for as long as it asks", async () => {
    const { effects, now, pass } = world();
    const got = await receiver(
      [
        answer(503, { "retry-after": "90" }),
        answer(429, { "retry-after": new Date(START + 600_000).toUTCString() }),
        answer(200),
      ],
      { now },
    );
    const root = await shopTelling(got.url);
    await drain(root, { effects });
    const firstAt = now();
    pass(89_000);
    await drain(root, { effects });
    expect(got.received).toHaveLength(1);
    pass(firstAt + 90_000 - now());
    await drain(root, { effects });
    expect(got.received).toHaveLength(2);
    pass(START + 599_000 - now());
    await drain(root, { effects });
    expect(got.received).toHaveLength(2);
    pass(2000);
    await drain(root, { effects });
    expect(got.received).toHaveLength(3);
    expect(await states(root)).toMatchObject([{ sent: 1, owed: 0 }]);
  });
  it.each([400, 401, 404, 410, 413, 422])(
    "that refuses with %i is not asked again, and it is said",
    async (status) => {
      const got = await receiver([answer(status, {}, "no such\tjob\u001b[31m")]);
      const { effects, pass } = world();
      const root = await shopTelling(got.url);
      const { told } = await drain(root, { effects });
      expect(told.at(-1)).toBe(
        `${got.url} does not take report J-1_10_seat r1: HTTP ${status}: no such job [31m. It is not sent again; plinth doctor shows it, plinth watch --resend tries it once more.`,
      );
      pass(30 * 86_400_000);
      await drain(root, { effects });
      expect(got.received).toHaveLength(1);
      expect(await states(root)).toMatchObject([
        {
          sent: 0,
          owed: 0,
          refused: [{ subject: "report J-1_10_seat r1", because: `HTTP ${status}: no such job [31m` }],
        },
      ]);
      await drain(root, { effects, resend: true });
      expect(got.received.map(({ key }) => key)).toEqual([got.received[0]?.key, got.received[0]?.key]);
    },
  );
  it.each([301, 302, 303, 307, 308])("that answers with redirect %i is not followed", async (status) => {
    const elsewhere = await receiver([answer(200)]);
    const got = await receiver([answer(status, { location: elsewhere.url })]);
    const root = await shopTelling(got.url);
    const { told } = await drain(root, { effects: world().effects });
    expect(told.at(-1)).toContain(
      `HTTP ${status}: a redirect is not followed; put the final address into plinth.yaml`,
    );
    expect(elsewhere.received).toEqual([]);
  });
  it("that is not there yet gets everything in order when it comes", async () => {
    const first = await receiver([answer(200)]);
    const { port } = first;
    await first.close();
    const { effects, pass } = world();
    const root = await shopTelling(`http://127.0.0.1:${port}/in`);
    const { told } = await drain(root, { effects });
    expect(told.at(-1)).toContain("nobody listens there. It stays owed; next try in 2 s.");
    for (const height of [1, 2]) {
      await drop(root, "a.csv", faceLog({ height }));
      await drain(root, { effects });
    }
    expect(await states(root)).toMatchObject([{ sent: 0, owed: 3, hindrance: "nobody listens there" }]);
    pass(3_600_000);
    const later = await receiver([answer(200)], { port });
    await drain(root, { effects });
    const names = later.received.map(({ body }) => /filename="(\S+)\.sidecar/.exec(body.toString())?.[1]);
    expect(names).toEqual(["J-1_10_seat_r1", "J-1_10_seat_r2", "J-1_10_seat_r3"]);
  });
  it("is asked once in each pause however much is owed to it, and the other target waits for nothing", async () => {
    const [dead, well] = [await receiver([answer(500)]), await receiver([answer(200)])];
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${dead.url}"}\n  - {url: "${well.url}"}\n`);
    for (let i = 0; i < 6; i++) await drop(root, `${i}.csv`, faceLog({ header: { job: `J-${i}` } }));
    await drain(root, { effects: world().effects });
    expect(dead.received).toHaveLength(1);
    expect(well.received).toHaveLength(6);
    expect(pauseMs(1)).toBe(2000);
    expect(pauseMs(40)).toBe(3_600_000);
  });
  it("gets the rest while one message alone is no good", async () => {
    const got = await receiver([
      (response, { body }) =>
        answer(body.includes("J-1_10_seat_r1.html") ? 500 : 200)(response, undefined as never),
    ]);
    const { effects } = world();
    const root = await shopTelling(got.url);
    for (let i = 2; i < 5; i++) await drop(root, `${i}.csv`, faceLog({ header: { job: `J-${i}` } }));
    const workspace = await openWorkspace(effects, root);
    await drain(root, { effects });
    const ledger = await openLedger(join(root, "plinth.db"));
    const log = runLog(effects, workspace.paths, "run", () => undefined);
    const messenger = startMessenger({ effects, workspace, ledger, log });
    while ((await states(root))[0]?.sent !== 3) await wait(5);
    await messenger.stop();
    await ledger.close();
    expect(await states(root)).toMatchObject([{ sent: 3, owed: 1 }]);
  });
});

describe("an odd server", () => {
  async function rawServer(
    text: string,
    end: "cut" | "open",
  ): Promise<{ url: string; count: () => number; close: () => void }> {
    let count = 0;
    const server = createServer((socket) => {
      socket.on("error", () => undefined);
      let seen = "";
      socket.on("data", (data) => {
        seen += data.toString("latin1");
        if (!/--plinth-[0-9a-f]{32}--\r\n$/.test(seen)) return;
        count++;
        socket.write(text, () => end === "cut" && socket.destroy());
      });
    });
    await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
    const { port } = server.address() as { port: number };
    return { url: `http://127.0.0.1:${port}/`, count: () => count, close: () => void server.close() };
  }
  const OK = "HTTP/1.1 200 OK\r\nContent-Length: 2\r\n\r\nok";
  it.each([
    ["answers twice", OK + OK, "cut", 1, 0],
    [
      "says 100 and 103 first",
      `HTTP/1.1 100 Continue\r\n\r\nHTTP/1.1 103 Early Hints\r\n\r\n${OK}`,
      "cut",
      1,
      0,
    ],
    ["cuts the connection in its 200", "HTTP/1.1 200 OK\r\nContent-Length: 5000\r\n\r\nhalf", "cut", 1, 0],
    ["stalls in its 200", "HTTP/1.1 200 OK\r\nContent-Length: 5000\r\n\r\nhalf", "open", 1, 0],
    ["speaks no HTTP", "220 mail.example ready\r\n", "cut", 0, 1],
    ["cuts in the first line", "HTTP/1.1 2", "cut", 0, 1],
    [
      "switches protocols",
      "HTTP/1.1 101 Switching Protocols\r\nUpgrade: x\r\nConnection: Upgrade\r\n\r\n",
      "open",
      0,
      1,
    ],
  ] as const)("that %s is understood, once", async (_, text, end, sent, owed) => {
    const server = await rawServer(text, end);
    const root = await shopTelling(server.url);
    await drain(root, { effects: world().effects });
    expect(await states(root)).toMatchObject([{ sent, owed, refused: [] }]);
    expect(server.count()).toBe(1);
    server.close();
  });
  it("that never stops talking is not listened to", async () => {
    const got = await receiver([
      async (response) => {
        response.writeHead(400);
        const part = "x".repeat(65_536);
        while (!response.destroyed) if (!response.write(part)) await wait(1);
      },
    ]);
    const root = await shopTelling(got.url);
    const started = Date.now();
    const { told } = await drain(root, { effects: world().effects });
    expect(Date.now() - started).toBeLessThan(3000);
    expect(told.at(-1)?.length).toBeLessThan(500);
    expect(told.at(-1)).toContain("HTTP 400: xxxx");
  });
});

describe("reports", () => {
  it("never wait for a server that stalls", async () => {
    const got = await receiver([stall]);
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", timeout: 60 s}\n`);
    const effects = durableEffects();
    const stop = new AbortController();
    const seen: { readonly sentence: string; readonly at: number }[] = [];
    const running = watch(effects, await openWorkspace(effects, root), {
      once: false,
      signal: stop.signal,
      tell: (sentence) => seen.push({ sentence, at: Date.now() }),
      printer: noBrowser,
    });
    const dropped: number[] = [];
    for (let i = 0; i < 3; i++) {
      dropped.push(Date.now());
      await drop(root, "a.csv", faceLog({ height: i }));
      while (!seen.some(({ sentence }) => sentence.startsWith(`J-1_10_seat_r${i + 1}`))) await wait(20);
      if (i === 0) await got.gets(1);
    }
    // The first message has been on its way all the time, and stopping does not wait for it either.
    expect(got.received).toHaveLength(1);
    const stopped = Date.now();
    stop.abort();
    await running;
    expect(Date.now() - stopped).toBeLessThan(3000);
    for (const [i, at] of dropped.entries()) {
      const done = seen.find(({ sentence }) => sentence.startsWith(`J-1_10_seat_r${i + 1}`))?.at ?? 0;
      expect(done - at).toBeLessThan(10_000);
    }
    expect(await states(root)).toMatchObject([{ sent: 0, owed: 3, refused: [] }]);
    expect(seen.map(({ sentence }) => sentence).filter((sentence) => /not told/.test(sentence))).toEqual([]);
  });
  it("of the next run do not wait either: with --once messages go last and without the lock", async () => {
    let atSending: boolean[] = [];
    let root = "";
    const got = await receiver([
      (response) => {
        const here = (...parts: string[]): boolean => existsSync(join(root, ...parts));
        atSending = [
          here(".plinth", "watch.lock"),
          here("reports", "J-1_10_seat_r1.json"),
          here("inbox", "a.csv"),
        ];
        answer(200)(response, undefined as never);
      },
    ]);
    root = await shopTelling(got.url);
    await drain(root, { effects: world().effects });
    expect(atSending).toEqual([false, true, false]);
  });
});

describe("at the same time", () => {
  it("several runs send each message once", async () => {
    const got = await receiver([answer(200)]);
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", timeout: 10 s}\n`);
    for (let i = 0; i < 12; i++) await drop(root, `${i}.csv`, faceLog({ header: { job: `J-${i}` } }));
    const { effects } = world();
    const refusing = async () => ({ how: "again", because: "not yet", afterMs: 0 }) as const;
    await drain(root, { effects, courier: refusing });
    const workspace = await openWorkspace(effects, root);
    const log = runLog(effects, workspace.paths, "run", () => undefined);
    const ledgers = await Promise.all([1, 2, 3].map(() => openLedger(join(root, "plinth.db"))));
    const later = { ...effects, now: () => START + 3_600_000 };
    const signal = new AbortController().signal;
    await Promise.all(ledgers.map((ledger) => sendDue({ effects: later, workspace, ledger, log }, signal)));
    for (const ledger of ledgers) await ledger.close();
    expect(got.received).toHaveLength(12);
    expect(new Set(got.received.map(({ key }) => key)).size).toBe(12);
    expect(await states(root)).toMatchObject([{ sent: 12, owed: 0 }]);
  });
});

describe("the secret", () => {
  it("may lie in a file, and stands nowhere else: not in the log, the ledger or what is said", async () => {
    const got = await receiver([answer(500, {}, "sorry"), answer(200)]);
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", secret-file: ../key.txt}\n`);
    await writeFile(join(root, "..", "key.txt"), `${SECRET}\r\n`);
    await drop(root, "a.csv", faceLog());
    const { effects, pass } = world({});
    const told = [...(await drain(root, { effects })).told];
    pass(60_000);
    told.push(...(await drain(root, { effects })).told);
    const [, one] = got.received;
    expect(one?.headers["plinth-signature"]).toBe(
      signatureOf(one?.headers["plinth-timestamp"], one?.body ?? Buffer.alloc(0)),
    );
    // Another time, another signature over the same body.
    expect(got.received[0]?.headers["plinth-signature"]).not.toBe(one?.headers["plinth-signature"]);
    expect(told.join("\n")).not.toContain(SECRET);
    for (const file of await allFiles(root))
      expect([file, (await readFile(join(root, file))).includes(SECRET)]).toEqual([file, false]);
  });
  it.each([
    [
      "variable",
      "secret-env: PLINTH_SECRET",
      /environment variable PLINTH_SECRET, which holds its secret, is not set/,
    ],
    ["file", "secret-file: key.txt", /file of its secret, key\.txt, is not there/],
  ])(
    "that cannot be had keeps the message back: nothing goes out unsigned (%s)",
    async (_, setting, words) => {
      const got = await receiver([answer(200)]);
      const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", ${setting}}\n`);
      await drop(root, "a.csv", faceLog());
      const { effects, pass } = world({});
      expect((await drain(root, { effects })).told.at(-1)).toMatch(words);
      expect(got.received).toEqual([]);
      await writeFile(join(root, "key.txt"), SECRET);
      pass(60_000);
      await drain(root, { effects: { ...effects, environment: { PLINTH_SECRET: SECRET } } });
      expect(got.received).toHaveLength(1);
      expect(got.received[0]?.headers["plinth-signature"]).toBe(
        signatureOf(got.received[0]?.headers["plinth-timestamp"], got.received[0]?.body ?? Buffer.alloc(0)),
      );
    },
  );
});

describe("what was accepted", () => {
  it("is sent and nothing else: a report that was changed or taken away is said, not sent", async () => {
    const got = await receiver([answer(200)]);
    const { effects, pass } = world();
    const later = async () => ({ how: "again", because: "not yet", afterMs: 0 }) as const;
    const root = await shopTelling(got.url);
    await drop(root, "b.csv", faceLog({ header: { job: "J-2" } }));
    await drain(root, { effects, courier: later });
    const json = join(root, "reports", "J-1_10_seat_r1.json");
    await writeFile(json, (await readFile(json, "utf8")).replace("J-1", "J-7"));
    await rm(join(root, "reports", "J-2_10_seat_r1.json"));
    pass(60_000);
    const { told } = await drain(root, { effects });
    expect(got.received).toEqual([]);
    expect(told.join("\n")).toContain("reports/J-1_10_seat_r1.json was changed since it was accepted");
    expect(told.join("\n")).toContain("reports/J-2_10_seat_r1.json is gone");
  });
  it("waits where the settings do not name its target any more, and goes when they do", async () => {
    const got = await receiver([answer(200)]);
    const { effects, pass } = world();
    const later = async () => ({ how: "again", because: "not yet", afterMs: 0 }) as const;
    const root = await shopTelling(got.url);
    await drain(root, { effects, courier: later });
    await writeFile(join(root, "plinth.yaml"), "");
    pass(60_000);
    await drain(root, { effects });
    expect(await states(root)).toMatchObject([{ target: got.url, owed: 1 }]);
    await writeFile(join(root, "plinth.yaml"), settingsFor(got.url));
    await drain(root, { effects });
    expect(got.received).toHaveLength(1);
  });
});

describe("a ledger made anew", () => {
  const rebuild = async (root: string, effects: DurableEffects): Promise<string[]> => {
    const told: string[] = [];
    await rebuildLedger(effects, await openWorkspace(effects, root), (sentence) => told.push(sentence));
    return told;
  };
  /** One message of each fate: sent, refused, owed. */
  async function threeFates() {
    const got = await receiver([answer(200), answer(404), answer(500), answer(200)]);
    const { effects, pass } = world();
    const root = await shopTelling(got.url);
    await drain(root, { effects });
    for (const job of ["J-2", "J-3"]) {
      await drop(root, `${job}.csv`, faceLog({ header: { job } }));
      await drain(root, { effects });
    }
    expect(await states(root)).toMatchObject([{ sent: 1, owed: 1, refused: [{ because: "HTTP 404" }] }]);
    return { got, effects, pass, root };
  }
  it("keeps what is owed, sent and refused, and sends nothing twice", async () => {
    const { got, effects, pass, root } = await threeFates();
    const before = await states(root);
    await rebuild(root, effects);
    expect(await states(root)).toEqual(before);
    pass(3_600_000);
    await drain(root, { effects });
    expect(got.received.map(({ key }) => key).slice(3)).toEqual([got.received[2]?.key]);
    expect(await allFiles(root)).not.toContainEqual(expect.stringMatching(/old\.db/));
  });
  it.each([
    ["damaged", (path: string) => writeFile(path, "garbage")],
    ["gone", (path: string) => rm(path)],
    ["emptied", (path: string) => writeFile(path, "")],
  ])("where the old one is %s tells newer revisions again, each under its old key", async (_, damage) => {
    const { got, effects, root } = await threeFates();
    await damage(join(root, "plinth.db"));
    for (const part of ["-wal", "-shm"]) await rm(join(root, `plinth.db${part}`), { force: true });
    const told = await rebuild(root, effects);
    expect(told.join("\n")).toContain(
      "3 revisions of the last 30 days are told again, each under its old key",
    );
    await drain(root, { effects });
    const keys = got.received.map(({ key }) => key);
    expect(keys.slice(3)).toEqual(keys.slice(0, 3));
    expect(await states(root)).toMatchObject([{ sent: 3, owed: 0, refused: [] }]);
  });
});

describe("what was not told", () => {
  it("is shown by doctor, which fails for it, and by the terminal of the night", async () => {
    const got = await receiver([answer(422, {}, "unknown job"), answer(500, {}, "in repair")]);
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}"}\n`);
    await drop(root, "a.csv", faceLog());
    await drain(root);
    await drop(root, "b.csv", faceLog({ header: { job: "J-2" } }));
    await drain(root);
    const plinth = openProgram();
    try {
      const { out, code } = await plinth.run(["doctor", "--workspace", root, "--json"]);
      const checks = JSON.parse(out) as { what: string; works: boolean; found: string }[];
      const one = (what: string) => checks.find((check) => check.what === what);
      expect(code).toBe(4);
      expect(one(`told ${got.url}`)).toMatchObject({
        works: false,
        found: expect.stringMatching(
          /^0 sent, 1 owed since \S+Z \(HTTP 500: in repair\), 1 refused: report J-1_10_seat r1 \(HTTP 422: unknown job\); plinth watch --resend/,
        ),
      });
      expect(one("workspace")).toMatchObject({ works: true });
      expect(one("ledger")).toMatchObject({ works: true, found: "whole" });
      expect(one("watcher")).toMatchObject({ works: true, found: expect.stringContaining("ended") });
      await writeFile(
        join(root, ".plinth", "heartbeat.json"),
        JSON.stringify({ state: "watching", beat: "2026-01-01T00:00:00Z", pid: 1, host: "h" }),
      );
      const later = await plinth.run(["doctor", "--workspace", root, "--quiet"]);
      expect(later.out).toContain(
        "watcher: silent since 2026-01-01T00:00:00Z (process 1 on h): it died or hangs",
      );
      const night = await plinth.run(["nightly", "--workspace", root, "--date", "2026-01-01"]);
      expect(night.out).toContain("1 messages are still owed, 1 were refused");
      const nowhere = await plinth.run(["doctor", "--workspace", join(root, "nowhere"), "--quiet"]);
      expect([nowhere.code, nowhere.out]).toEqual([4, expect.stringContaining("no workspace here")]);
    } finally {
      plinth.remove();
    }
  });
});

describe("the digest", () => {
  const night = async (root: string, effects: DurableEffects, tell = (_: string): void => undefined) =>
    nightly(effects, await openWorkspace(effects, root), { date: "2026-11-25", tell });
  it("is told once in each state, with what is owed of the day", async () => {
    const got = await receiver([answer(500), answer(200)]);
    const { effects, pass } = world();
    const root = await shopTelling(got.url);
    await drain(root, { effects });
    expect(got.received).toHaveLength(1);
    pass(60_000);
    const told: string[] = [];
    const first = await night(root, effects, (sentence) => told.push(sentence));
    expect(told).toEqual([
      `Told ${got.url}: report J-1_10_seat r1 (try 2).`,
      `Told ${got.url}: digest 2026-11-25.`,
    ]);
    expect(first.told).toMatchObject([{ sent: 2, owed: 0 }]);
    await night(root, effects);
    expect(got.received).toHaveLength(3);
    const form = await new Response(new Uint8Array(got.received[2]?.body ?? []), {
      headers: { "content-type": got.received[2]?.headers["content-type"] ?? "" },
    }).formData();
    expect(got.received[2]?.headers["plinth-event"]).toBe("digest");
    expect(JSON.parse(await (form.get("sidecar") as File).text())).toMatchObject({
      schema: "plinth.digest/1",
    });
    await drop(root, "a.csv", faceLog({ height: 1 }));
    await drain(root, { effects });
    await night(root, effects);
    expect(got.received.map(({ headers }) => headers["plinth-event"])).toEqual([
      "report",
      "report",
      "digest",
      "report",
      "digest",
    ]);
  });
  it("that nobody got is not owed any more once there is a newer one of the day", async () => {
    const got = await receiver([answer(503)]);
    const { effects, pass } = world();
    const root = await makeWorkspace(PLAN, `notify:\n  - {url: "${got.url}", on: [digest]}\n`);
    await night(root, effects);
    await drop(root, "a.csv", faceLog());
    await drain(root, { effects });
    pass(3_600_000);
    await night(root, effects);
    expect(await states(root)).toMatchObject([{ sent: 0, owed: 1, refused: [] }]);
    expect(new Set(got.received.map(({ key }) => key)).size).toBe(2);
  });
});

describe("a command", () => {
  /** Writes what it was given into a file, and does as its first argument says. */
  const SCRIPT = `
    const { appendFileSync, readFileSync } = require("node:fs");
    const [, , file, what, ...given] = process.argv;
    appendFileSync(file, JSON.stringify({ given, cwd: process.cwd(), key: process.env.PLINTH_IDEMPOTENCY_KEY, event: process.env.PLINTH_EVENT,
      record: process.env.PLINTH_RECORD, secret: process.env.PLINTH_SECRET ?? null, sidecar: JSON.parse(readFileSync(given.at(-1), "utf8")),
      page: readFileSync(given.at(-2), "utf8").slice(0, 15) }) + "\\n");
    if (what === "hang") setInterval(() => {}, 1000);
    else if (what === "flood") { const part = "x".repeat(100000); for (let i = 0; i < 50; i++) { process.stdout.write(part); process.stderr.write(part); } process.exitCode = 1; }
    else if (what !== "0") { console.error("\\u0007trouble\\nof mine"); process.exitCode = Number(what); }
  `;
  async function shopWith(what: string, more = ""): Promise<string> {
    const root = await makeWorkspace(PLAN);
    await mkdir(join(root, "tools"));
    await writeFile(join(root, "tools", "told.cjs"), SCRIPT);
    const command = JSON.stringify([
      process.execPath,
      "tools/told.cjs",
      "told.jsonl",
      what,
      "a b; touch owned",
      "$(touch owned)",
    ]);
    await writeFile(
      join(root, "plinth.yaml"),
      `notify:\n  - {name: told, command: ${command}, timeout: 2 s}\n${more}`,
    );
    await drop(root, "a.csv", faceLog({ header: { job: "$(touch owned); `touch owned`" } }));
    return root;
  }
  interface Run {
    readonly given: string[];
    readonly cwd: string;
    readonly key: string;
    readonly secret: string | null;
    readonly sidecar: Record<string, unknown>;
    readonly page: string;
    readonly event: string;
    readonly record: string;
  }
  const runs = async (root: string): Promise<Run[]> =>
    (await readFile(join(root, "told.jsonl"), "utf8"))
      .trim()
      .split("\n")
      .map((line) => JSON.parse(line) as Run);

  it("gets the paths of page and sidecar, without a shell, and no secret", async () => {
    const got = await receiver([answer(200)]);
    const root = await shopWith("0", `  - {url: "${got.url}", secret-env: PLINTH_SECRET}\n`);
    await drain(root, { effects: world().effects });
    const [run, ...more] = await runs(root);
    expect(more).toEqual([]);
    const [given, both] = [run?.given.slice(0, 2), run?.given.slice(2) ?? []];
    expect(given).toEqual(["a b; touch owned", "$(touch owned)"]);
    expect(both[0]).toMatch(/reports\/--touch-owned-[^/]*_10_seat_r1\.html$/);
    expect(run).toMatchObject({ cwd: root, secret: null, event: "report", page: "<!DOCTYPE html>" });
    expect(run?.record).toBe(both[0]?.replace(/html$/, "json"));
    expect(run?.sidecar).toMatchObject({ job: "$(touch owned); `touch owned`", revision: 1 });
    expect(run?.key).toMatch(/^[0-9a-f]{32}$/);
    const files = await allFiles(root);
    expect(files.filter((file) => /owned$|outbox/.test(file))).toEqual([]);
    expect(got.received).toHaveLength(1);
  });
  it.each([
    ["ends with 1", "1", { owed: 1, sent: 0, hindrance: "exit 1: trouble of mine" }],
    ["hangs", "hang", { owed: 1, sent: 0, hindrance: "it did not end within 2 s" }],
    ["floods", "flood", { owed: 1, sent: 0, hindrance: `exit 1: ${"x".repeat(200)}...` }],
    ["ends with 3", "3", { owed: 0, sent: 0, refused: [{ because: "exit 3: trouble of mine" }] }],
  ])("that %s is tried again or never, as it says", async (_, what, state) => {
    const root = await shopWith(what);
    const { effects, pass } = world();
    await drain(root, { effects });
    expect(await states(root)).toMatchObject([state]);
    pass(3_600_000);
    await writeFile(
      join(root, "tools", "told.cjs"),
      SCRIPT.replace("what, ...given", "_, ...given").replaceAll("what", '"0"'),
    );
    await drain(root, { effects });
    const keys = (await runs(root)).map(({ key }) => key);
    expect(keys).toEqual("refused" in state ? [keys[0]] : [keys[0], keys[0]]);
    expect(await states(root)).toMatchObject([{ sent: "refused" in state ? 0 : 1 }]);
  });
  it("that is not there, or may not be run, is said", async () => {
    const root = await makeWorkspace(PLAN);
    await writeFile(join(root, "plain.txt"), "");
    await chmod(join(root, "plain.txt"), 0o644);
    await writeFile(
      join(root, "plinth.yaml"),
      "notify:\n  - {command: [no-such-program]}\n  - {command: [./plain.txt]}\n",
    );
    await drop(root, "a.csv", faceLog());
    const { told }: Told = await drain(root, { effects: world().effects });
    expect(told.join("\n")).toContain("no-such-program: there is no such program. It stays owed");
    expect(told.join("\n")).toContain("./plain.txt: it cannot be started (EACCES). It stays owed");
  });
});
