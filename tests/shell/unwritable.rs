//! A journal that cannot be written: the carer is told, and nothing is half-written.

use std::io::Write;
use std::process::{Command, Stdio};

use sqlx::sqlite::SqliteConnectOptions;
use sqlx::{ConnectOptions, Connection};

use super::{count, entries, north, verified};
use wrackline_tests::binary::{PATIENCE, Ran, program};

#[tokio::test]
async fn a_journal_that_another_holds_is_not_written() {
    let shell = north();
    let mut serve = shell.serve();
    let cookie = serve.enter(&shell.run(&["link", "--as", "Ada"]).done());
    // The serve looks at the place once when it starts; afterwards nothing changes by itself.
    shell.run(&["say", "--as", "Ada", "/read north 80%"]).done();
    let before = entries(&shell.database()).await;
    let options = SqliteConnectOptions::new().filename(shell.database());
    let mut holder = options.connect().await.expect("a second connection");
    sqlx::query("BEGIN IMMEDIATE")
        .execute(&mut holder)
        .await
        .expect("the lock");
    let mut line = shell.command(&["say", "--as", "Ada", "/read north 83%"]);
    let line = line
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let body = r#"{"id":"held-line-1","line":"/read north 81%"}"#;
    let page = serve.request("POST /say", &cookie, body);
    let line = Ran::from(line.wait_with_output().expect("an answer"));
    let said = line.failed(1);
    assert!(
        said.contains("Not saved") || said.contains("othing was saved"),
        "{said}"
    );
    assert!(
        page.starts_with("HTTP/1.1 503") && page.contains("cannot reach its journal"),
        "{page}"
    );
    assert_eq!(entries(&shell.database()).await, before);
    sqlx::query("ROLLBACK")
        .execute(&mut holder)
        .await
        .expect("the lock is given back");
    holder.close().await.expect("it closes");
    // Said again, it is saved once.
    shell.run(&["say", "--as", "Ada", "/read north 83%"]).done();
    let readings = "SELECT count(*) FROM entry WHERE body LIKE '%umidity%83%'";
    assert_eq!(count(&shell.database(), readings).await, 1);
    assert_eq!(serve.stop().0, Some(0));
    verified(&shell);
}

/// Serves on a small disk of its own, fills that disk, says a line, makes room, and says it again.
const FULL_DISK: &str = r#"
set -eu
mount -t tmpfs -o size=2m wrackline "$1"
cd "$1"
wrackline="$2"
export WRACKLINE_DATA=data WRACKLINE_BIND=127.0.0.1:0 RUST_LOG=off
say() { "$wrackline" say --as Ada "$1"; }
"$wrackline" init --zone UTC --keeper Ada
say "/enclosure add North 400 L"
"$wrackline" serve &
serve=$!
tries=0
while [ ! -S data/wrackline.db.socket ]; do
    tries=$((tries + 1))
    [ "$tries" -lt 300 ]
    sleep 0.1
done
say "/read north 80%"
dd if=/dev/zero of=filler bs=4096 2>/dev/null || true
echo "full: $(df --output=avail . | tail -n 1 | tr -d ' ') left"
refused=0
for percent in 81 82 83 84; do
    code=0
    text=$(say "/read north $percent% note $(printf 'x%.0s' $(seq 1500))" 2>&1) || code=$?
    echo "code $code: $text"
    [ "$code" -eq 0 ] || refused=$((refused + 1))
done
echo "refused $refused"
rm filler
say "/read north 77%"
kill -TERM "$serve"
wait "$serve"
"$wrackline" verify
echo "end"
"#;

/// The ways to a file system of one's own, the plainest first.
const WAYS: [&[&str]; 3] = [
    &["unshare", "-m"],
    &["unshare", "-r", "-m"],
    &["sudo", "-n", "unshare", "-m"],
];

fn on_a_disk_of_its_own(script: &str, arguments: &[&str]) -> Option<Ran> {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().to_str().expect("a path");
    let limit = PATIENCE.as_secs().to_string();
    let start = |way: &&[&str], script: &str| {
        let run = Command::new(way[0])
            .args(&way[1..])
            .args(["timeout", &limit, "sh", "-c", script, "sh", path])
            .args(arguments)
            .output();
        run.map(Ran::from)
    };
    let works = |way: &&&[&str]| {
        start(way, r#"mount -t tmpfs -o size=2m wrackline "$1""#).is_ok_and(|probe| probe.code == 0)
    };
    let way = WAYS.iter().find(works)?;
    Some(start(way, script).expect("it runs"))
}

#[test]
fn on_a_full_disk_the_carer_is_told() {
    let program = program().to_str().expect("a path");
    let Some(ran) = on_a_disk_of_its_own(FULL_DISK, &[program]) else {
        let ci = std::env::var_os("CI").is_some_and(|ci| ci == "true");
        assert!(!ci, "a disk of its own cannot be had, and here it must");
        // Past the capture of what tests print, so that it is seen.
        writeln!(
            std::io::stderr(),
            "1 check left out: no disk of its own could be had"
        )
        .expect("it is seen");
        return;
    };
    let shown = format!("{}\n{}", ran.out, ran.err);
    assert_eq!(ran.code, 0, "{shown}");
    assert!(ran.out.ends_with("0 differences\nend\n"), "{shown}");
    let codes: Vec<&str> = ran.out.lines().filter(|line| line.starts_with("code ")).collect();
    assert_eq!(codes.len(), 4, "{shown}");
    // What still fits may be saved; from then on every line is answered, and none is lost in silence.
    let last = codes.last().expect("a line");
    assert!(
        last.starts_with("code 1: ") && last.contains("Not saved") && last.contains("full"),
        "{shown}"
    );
    assert!(
        codes
            .iter()
            .all(|line| line.starts_with("code 0: ") || line.contains("Not saved")),
        "{shown}"
    );
}
