//! What the files of `deploy/` promise: no root, nothing to write on but the data, no secrets, nothing for strangers.

use std::collections::BTreeSet;
use std::fs;

use super::{files, root, shown};

fn read(name: &str) -> String {
    fs::read_to_string(root().join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The lines of a file that say something, without its comments.
fn told(name: &str) -> Vec<String> {
    let text = read(name);
    let lines = text.lines().filter(|line| !line.trim_start().starts_with('#'));
    lines
        .map(str::trim_end)
        .filter(|line| !line.is_empty())
        .map(str::to_owned)
        .collect()
}

/// The lines under a key of a YAML file, without the depth that they have in common.
fn under(lines: &[String], key: &str) -> Vec<String> {
    let mut rest = lines.iter().skip_while(|line| {
        let (name, _) = line.split_once(':').unwrap_or((line, ""));
        name != key
    });
    let first = rest.next().unwrap_or_else(|| panic!("there is no {key}"));
    assert!(
        first.ends_with(':') || first.contains(": &"),
        "{first} stands on one line"
    );
    rest.map_while(|line| line.strip_prefix("  "))
        .map(str::to_owned)
        .collect()
}

/// The value of a key that stands on one line.
fn value<'a>(lines: &'a [String], key: &str) -> &'a str {
    let found = lines
        .iter()
        .find_map(|line| line.strip_prefix(key)?.strip_prefix(": "));
    found.unwrap_or_else(|| panic!("there is no {key} in {lines:?}"))
}

/// The entries of a list.
fn list(lines: &[String], key: &str) -> Vec<String> {
    let entries = under(lines, key);
    let entries = entries.iter().map(|line| {
        let entry = line
            .strip_prefix("- ")
            .unwrap_or_else(|| panic!("{line} is no entry"));
        entry.trim_matches('"').to_owned()
    });
    entries.collect()
}

fn service(name: &str) -> Vec<String> {
    under(&under(&told("deploy/compose.yaml"), "services"), name)
}

/// Whether a user is given by numbers, none of which is root's.
fn is_not_root(user: &str) -> bool {
    let ids: Vec<Option<u32>> = user.split(':').map(|id| id.parse().ok()).collect();
    ids.len() == 2 && ids.iter().all(|id| id.is_some_and(|id| id > 0))
}

/// The values of an instruction in the image's last stage.
fn instructions(name: &str) -> Vec<String> {
    let lines = told("deploy/Containerfile");
    let last = lines
        .iter()
        .rposition(|line| line.starts_with("FROM "))
        .expect("a stage");
    let values = lines[last..]
        .iter()
        .filter_map(|line| line.strip_prefix(name)?.strip_prefix(' '));
    values.map(str::to_owned).collect()
}

#[test]
fn the_image_runs_as_nobody_in_particular_and_is_asked_after_its_health() {
    let [user] = &instructions("USER")[..] else {
        panic!("one user in the last stage");
    };
    assert!(is_not_root(user), "{user}");
    assert_eq!(instructions("VOLUME"), ["[\"/var/lib/wrackline\"]"]);
    assert_eq!(instructions("EXPOSE"), ["8765"]);
    assert_eq!(instructions("ENTRYPOINT"), ["[\"wrackline\"]"]);
    assert_eq!(instructions("CMD"), ["[\"serve\"]"]);
    let asked = instructions("HEALTHCHECK");
    assert!(
        asked.len() == 1 && asked[0].ends_with("CMD [\"wrackline\", \"health\"]"),
        "{asked:?}"
    );
    // What was downloaded or compiled stays behind in the first stage.
    assert_eq!(instructions("RUN"), Vec::<String>::new());
    let copied = instructions("COPY");
    assert!(!copied.is_empty() && copied.iter().all(|from| from.starts_with("--from=builder ")));
    let build = told("deploy/Containerfile").join("\n");
    assert!(build.contains("--profile dist --locked"), "{build}");
}

#[test]
fn every_service_is_locked_in() {
    for name in ["wrackline", "postgres"] {
        let service = service(name);
        assert!(is_not_root(value(&service, "user").trim_matches('"')), "{name}");
        assert_eq!(value(&service, "read_only"), "true", "{name}");
        assert_eq!(list(&service, "cap_drop"), ["ALL"], "{name}");
        assert_eq!(
            list(&service, "security_opt"),
            ["no-new-privileges:true"],
            "{name}"
        );
        assert!(list(&service, "tmpfs").contains(&"/tmp".to_owned()), "{name}");
        assert!(
            value(&under(&service, "healthcheck"), "test").starts_with("[\"CMD\", "),
            "{name}"
        );
        let limits = under(&under(&under(&service, "deploy"), "resources"), "limits");
        assert!(!value(&limits, "memory").is_empty() && !value(&limits, "cpus").is_empty());
        value(&service, "stop_grace_period");
        value(&service, "restart");
    }
    let asked = value(&under(&service("wrackline"), "healthcheck"), "test").to_owned();
    assert_eq!(asked, "[\"CMD\", \"wrackline\", \"health\"]");
}

#[test]
fn strangers_reach_neither_porch_nor_database() {
    let ports = list(&service("wrackline"), "ports");
    assert!(!ports.is_empty());
    assert!(
        ports.iter().all(|port| port.starts_with("127.0.0.1:")),
        "{ports:?}"
    );
    let postgres = service("postgres");
    assert!(
        !postgres.iter().any(|line| line.starts_with("ports:")),
        "{postgres:?}"
    );
    assert_eq!(list(&postgres, "networks"), ["database"]);
    let networks = under(&told("deploy/compose.yaml"), "networks");
    assert_eq!(value(&under(&networks, "database"), "internal"), "true");
}

#[test]
fn secrets_come_from_files_that_are_not_kept_here() {
    let compose = told("deploy/compose.yaml");
    let secrets = under(&compose, "secrets");
    let sources: Vec<&str> = secrets
        .iter()
        .filter_map(|line| line.trim().strip_prefix("file: "))
        .collect();
    assert_eq!(sources.len(), 3, "{secrets:?}");
    assert!(
        sources.iter().all(|file| file.starts_with("./secrets/")),
        "{sources:?}"
    );
    assert!(told(".gitignore").contains(&"/deploy/secrets".to_owned()));
    // An image is built from what is named alone.
    let named = told(".dockerignore");
    assert_eq!(named.first().map(String::as_str), Some("*"));
    assert!(
        named
            .iter()
            .skip(1)
            .all(|line| line.starts_with('!') && !line.contains("deploy"))
    );

    let mut given = 0;
    for path in files("deploy") {
        assert!(
            !shown(&path).starts_with("deploy/secrets/"),
            "{} is a secret",
            shown(&path)
        );
        for line in told(&shown(&path)) {
            // A setting that is a secret itself, not the file that holds it.
            for name in ["WRACKLINE_TOKEN", "POSTGRES_PASSWORD", "PGPASSWORD"] {
                for (at, _) in line.match_indices(name) {
                    let behind = &line[at + name.len()..];
                    assert!(!behind.starts_with(['=', ':']), "{}: {line}", shown(&path));
                    given += 1;
                }
            }
            // An address may name a user, but no password.
            for (_, address) in line
                .match_indices("postgres://")
                .map(|(at, start)| (at, &line[at + start.len()..]))
            {
                let user = address.split_once('@').map_or("", |(user, _)| user);
                assert!(
                    !user.contains(':') && !address.contains("password="),
                    "{}: {line}",
                    shown(&path)
                );
                given += 1;
            }
        }
    }
    assert!(given >= 4, "{given} settings were looked at");
}

#[test]
fn the_unit_may_do_little() {
    let unit = told("deploy/wrackline.service");
    for setting in [
        "DynamicUser=yes",
        "StateDirectory=wrackline",
        "LoadCredential=token:/etc/wrackline/token",
        "Environment=WRACKLINE_TOKEN_FILE=%d/token",
        "ProtectSystem=strict",
        "ProtectHome=yes",
        "ProtectClock=yes",
        "ProtectHostname=yes",
        "ProtectKernelLogs=yes",
        "ProtectProc=invisible",
        "ProcSubset=pid",
        "NoNewPrivileges=yes",
        "CapabilityBoundingSet=",
        "RemoveIPC=yes",
        "RestrictRealtime=yes",
        "RestrictSUIDSGID=yes",
        "SystemCallArchitectures=native",
        "SystemCallFilter=@system-service",
    ] {
        assert!(
            unit.iter().any(|line| line == setting),
            "the unit lacks {setting}"
        );
    }
}

#[test]
fn the_settings_that_are_made_are_there() {
    let config = read("bot/src/config.rs");
    let mut made = BTreeSet::new();
    for path in files("deploy")
        .iter()
        .map(|path| shown(path))
        .chain(["README.md".to_owned()])
    {
        let text = read(&path);
        for (at, _) in text.match_indices("WRACKLINE_") {
            let name: String = text[at..]
                .chars()
                .take_while(|letter| letter.is_ascii_uppercase() || *letter == '_')
                .collect();
            assert!(
                config.contains(&format!("\"{name}\"")),
                "{path}: there is no {name}"
            );
            made.insert(name);
        }
    }
    assert!(made.len() >= 5, "{made:?}");
}
