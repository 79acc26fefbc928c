// Prints what the public validator of glTF 2.0 says of each file named: one line of
// JSON a file.
import { readFile } from "node:fs/promises";
import validator from "gltf-validator";

for (const name of process.argv.slice(2)) {
  const report = await validator.validateBytes(new Uint8Array(await readFile(name)), { uri: name, format: "glb" });
  const { numErrors, numWarnings, messages } = report.issues;
  console.log(JSON.stringify({ errors: numErrors, warnings: numWarnings, messages: messages.slice(0, 5), info: report.info }));
}
