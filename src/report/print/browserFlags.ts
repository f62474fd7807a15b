/**
 * The flags the browser is started with, beside the library's own: no name can be resolved, every request goes to a
 * proxy that does not exist (port 9, "discard", RFC 863), also those to this machine, and nothing calls home.
 * @param sandbox false adds the flag that switches the sandbox off
 */
export function browserFlags(sandbox: boolean): string[] {
  return [
    "--host-resolver-rules=MAP * ~NOTFOUND",
    "--proxy-server=127.0.0.1:9",
    "--proxy-bypass-list=<-loopback>",
    "--dns-prefetch-disable",
    "--disable-component-update",
    "--disable-domain-reliability",
    "--disable-quic",
    "--no-pings",
    "--no-default-browser-check",
    "--lang=en-US",
    "--disable-gpu",
    "--font-render-hinting=none",
    ...(sandbox ? [] : ["--no-sandbox"]),
  ];
}
