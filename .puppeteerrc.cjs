// The browser comes from the registry or the machine, never from a download at install time.
module.exports = { skipDownload: true };
