// Makes tests/data/platform/schemas.json: the request bodies of the operations used, as JSON Schemas.
//
// They come from the npm package `discord-api-spec`, whose schemas are written for `zod`. To make them anew:
//
//     npm install --no-save --prefix FOLDER discord-api-spec zod
//     node tests/platform/schemas.mjs FOLDER
//
// Objects are made strict, so that a key nobody knows is found on any level.

import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

const folder = resolve(process.argv[2] ?? ".");
const out = resolve(dirname(fileURLToPath(import.meta.url)), "../data/platform");
const home = join(folder, "node_modules/discord-api-spec");
const about = JSON.parse(readFileSync(join(home, "package.json"), "utf8"));
if (about.license !== "MIT") {
  throw new Error(`the package's licence is ${about.license}`);
}

// The objects are made when the file is read, so it has to be strict before.
const source = readFileSync(join(home, "build/discord-api-spec.zod.js"), "utf8");
const strict = source.replace("let zObject = z.object;", "let zObject = z.strictObject;");
if (strict === source) {
  throw new Error("the package makes its objects in another way");
}
const copy = join(home, "build/strict.zod.mjs");
writeFileSync(copy, strict);
const [spec, z] = await Promise.all([
  import(pathToFileURL(copy)),
  import(pathToFileURL(join(folder, "node_modules/zod/mini/index.js"))),
]);
rmSync(copy);

const named = (name) => ({ $ref: `#/$defs/${name}` });
const union = (...names) => ({ anyOf: names.map(named) });
const shapes = {
  MessageCreate: named("MessageCreateRequest"),
  MessageEdit: named("MessageEditRequestPartial"),
  Callback: union(
    "ApplicationCommandAutocompleteCallbackRequest",
    "CreateMessageInteractionCallbackRequest",
    "ModalInteractionCallbackRequest",
    "PongInteractionCallbackRequest",
    "UpdateMessageInteractionCallbackRequest",
  ),
  WebhookCreate: named("IncomingWebhookRequestPartial"),
  WebhookEdit: named("IncomingWebhookUpdateRequestPartial"),
  Commands: { type: "array", items: named("ApplicationCommandUpdateRequest") },
  Dm: named("CreatePrivateChannelRequest"),
};

const registry = z.registry();
for (const [name, schema] of Object.entries(spec)) {
  if (name.endsWith("Schema") && schema?._zod && schema._zod.def.type !== "lazy") {
    registry.add(schema, { id: name.slice(0, -"Schema".length) });
  }
}
const { schemas } = z.toJSONSchema(registry, {
  io: "input",
  unrepresentable: "any",
  uri: (id) => `#/$defs/${id}`,
});

// Only what the operations reach, and without what a validator has no use for.
const defs = {};
const reach = (node) => {
  if (Array.isArray(node)) {
    return node.map(reach);
  }
  if (node === null || typeof node !== "object") {
    return node;
  }
  const kept = {};
  for (const [key, value] of Object.entries(node)) {
    if (key === "$schema" || key === "$id" || key === "id" && typeof value === "string") {
      continue;
    }
    kept[key] = reach(value);
    if (key === "$ref") {
      const name = value.slice("#/$defs/".length);
      if (!(name in schemas)) {
        throw new Error(`nothing stands behind ${value}`);
      }
      if (!(name in defs)) {
        defs[name] = true;
        defs[name] = reach(schemas[name]);
      }
    }
  }
  return kept;
};
const document = {
  $schema: "https://json-schema.org/draft/2020-12/schema",
  $comment: `${about.name} ${about.version} (npm), ${about.license}; made by tests/platform/schemas.mjs`,
  shapes: reach(shapes),
  $defs: Object.fromEntries(Object.entries(defs).sort(([a], [b]) => (a < b ? -1 : 1))),
};
mkdirSync(out, { recursive: true });
writeFileSync(join(out, "schemas.json"), `${JSON.stringify(document, null, 1)}\n`);
writeFileSync(
  join(out, "LICENSE-discord-api-spec"),
  `schemas.json is made from ${about.name} ${about.version}, an npm package under this licence:\n\n` +
    readFileSync(join(home, "LICENSE"), "utf8"),
);
