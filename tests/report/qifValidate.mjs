// Validates QIF documents against the published schema files with xmllint: npm run qif:validate -- SCHEMA_FOLDER FILE...
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { join } from "node:path";

const [folder, ...documents] = process.argv.slice(2);
if (folder === undefined || documents.length === 0)
  stop("usage: npm run qif:validate -- SCHEMA_FOLDER FILE...");

// The standard's own package has its files in QIFApplications and QIFLibrary; others keep them in one folder.
const places = ["QIFApplications/QIFDocument.xsd", "QIFDocument.xsd"].map((path) => join(folder, path));
const schema = places.find((path) => existsSync(path));
if (schema === undefined) stop(`no QIFDocument.xsd in ${folder} or its QIFApplications`);

const run = spawnSync("xmllint", ["--nonet", "--noout", "--schema", schema, ...documents], {
  encoding: "utf8",
});
if (run.error !== undefined)
  stop(`xmllint cannot be run (${run.error.message}); it is in the package libxml2-utils`);
process.stderr.write(run.stderr);
process.exitCode = run.status ?? 1;

function stop(sentence) {
  process.stderr.write(`${sentence}\n`);
  process.exit(2);
}
