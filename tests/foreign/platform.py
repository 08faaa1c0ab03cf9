"""A minimal server of the group-chat platform, written from its documentation alone, with nothing but the standard
library: it shares no code with the program, nor with the libraries that the program and the other tests use.

It answers the few calls that a bot needs, speaks hello, identify, ready, guild-create and heartbeats, and sends the
interactions that it is told to send. Each line of its standard input is a JSON object: {"dispatch": [NAME, DATA]}
sends an event, {"first_post": "429" | "drop"} says what is to happen to the next message. Each line of its standard
output is a JSON object about one thing that happened, with seconds on its own clock. It listens on loopback alone.
"""

import base64
import hashlib
import json
import re
import socket
import struct
import sys
import threading
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

APPLICATION = "700000000000000001"
BOT = "700000000000000002"
SERVER = "700000000000000010"
CHANNEL = "700000000000000011"
RETRY_AFTER = 1.5
BEGAN = time.monotonic()

lock = threading.Lock()
sockets = []
messages = []
by_nonce = {}
plans = []
sequence = 0


def tell(what, **more):
    with lock:
        print(json.dumps({"what": what, "at": round(time.monotonic() - BEGAN, 4), **more}), flush=True)


def frame(text):
    data = text.encode()
    head = bytes([0x81])
    if len(data) < 126:
        head += bytes([len(data)])
    elif len(data) < 65536:
        head += bytes([126]) + struct.pack(">H", len(data))
    else:
        head += bytes([127]) + struct.pack(">Q", len(data))
    return head + data


def exactly(stream, count):
    data = b""
    while len(data) < count:
        part = stream.read(count - len(data))
        if not part:
            raise ConnectionError("closed")
        data += part
    return data


def unframe(stream):
    """One whole message of a client: (opcode, bytes)."""
    whole, first = b"", None
    while True:
        a, b = exactly(stream, 2)
        length = b & 0x7F
        if length == 126:
            (length,) = struct.unpack(">H", exactly(stream, 2))
        elif length == 127:
            (length,) = struct.unpack(">Q", exactly(stream, 8))
        if not b & 0x80:
            raise ConnectionError("a client's frames are masked")
        mask = exactly(stream, 4)
        whole += bytes(byte ^ mask[at % 4] for at, byte in enumerate(exactly(stream, length)))
        first = first if first is not None else a & 0x0F
        if a & 0x80:
            return first, whole


class Socket:
    def __init__(self, out):
        self.out, self.lock = out, threading.Lock()

    def send(self, payload):
        with self.lock:
            self.out.sendall(frame(json.dumps(payload)))

    def dispatch(self, name, data):
        global sequence
        with lock:
            sequence += 1
            number = sequence
        self.send({"op": 0, "t": name, "s": number, "d": data})


def guild():
    return {
        "id": SERVER, "name": "Wrack Line Hall", "owner_id": "700000000000000020", "icon": None, "splash": None,
        "discovery_splash": None, "afk_channel_id": None, "afk_timeout": 300, "verification_level": 0,
        "default_message_notifications": 0, "explicit_content_filter": 0, "roles": [], "emojis": [], "features": [],
        "mfa_level": 0, "application_id": None, "system_channel_id": None, "system_channel_flags": 0,
        "rules_channel_id": None, "vanity_url_code": None, "description": None, "banner": None, "premium_tier": 0,
        "preferred_locale": "en-GB", "public_updates_channel_id": None, "nsfw_level": 0, "stickers": [],
        "premium_progress_bar_enabled": False, "safety_alerts_channel_id": None, "joined_at": "2026-01-01T00:00:00Z",
        "large": False, "unavailable": False, "member_count": 3, "voice_states": [], "members": [], "threads": [],
        "presences": [], "stage_instances": [], "guild_scheduled_events": [], "soundboard_sounds": [],
        "channels": [{"id": CHANNEL, "type": 0, "name": "pools", "position": 0, "permission_overwrites": [],
                      "nsfw": False, "rate_limit_per_user": 0, "parent_id": None, "topic": None,
                      "last_message_id": None}],
    }


def bot():
    return {"id": BOT, "username": "wrackline", "discriminator": "0", "global_name": None, "avatar": None,
            "bot": True, "verified": True, "mfa_enabled": False, "email": None, "flags": 0}


def converse(out, stream):
    me = Socket(out)
    me.send({"op": 10, "d": {"heartbeat_interval": 2000}})
    while True:
        kind, data = unframe(stream)
        if kind == 8:
            return
        if kind != 1:
            continue
        said = json.loads(data)
        tell("gateway", op=said["op"])
        if said["op"] == 1:
            me.send({"op": 11})
        elif said["op"] == 2:
            tell("identified", intents=said["d"]["intents"])
            me.dispatch("READY", {
                "v": 10, "user": bot(), "session_id": "abc", "resume_gateway_url": f"ws://127.0.0.1:{port}",
                "guilds": [{"id": SERVER, "unavailable": True}], "shard": said["d"].get("shard", [0, 1]),
                "application": {"id": APPLICATION, "flags": 0}, "private_channels": []})
            me.dispatch("GUILD_CREATE", guild())
            sockets.append(me)


class Platform(BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def log_message(self, *_):
        pass

    def reply(self, status, body=None, headers=()):
        data = b"" if body is None else json.dumps(body).encode()
        self.send_response(status)
        self.send_header("Content-Length", str(len(data)))
        if data:
            self.send_header("Content-Type", "application/json")
        for name, value in headers:
            self.send_header(name, value)
        self.end_headers()
        self.wfile.write(data)

    def do_GET(self):
        if self.headers.get("Upgrade", "").lower() == "websocket":
            key = self.headers["Sec-WebSocket-Key"] + "258EAFA5-E914-47DA-95CA-C5AB0DC85B11"
            accept = base64.b64encode(hashlib.sha1(key.encode()).digest()).decode()
            self.wfile.write((f"HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n"
                              f"Sec-WebSocket-Accept: {accept}\r\n\r\n").encode())
            try:
                converse(self.connection, self.rfile)
            except (ConnectionError, OSError):
                pass
            self.close_connection = True
            return
        if self.path == "/api/v10/gateway/bot":
            self.reply(200, {"url": f"ws://127.0.0.1:{port}", "shards": 1, "session_start_limit": {
                "total": 1000, "remaining": 999, "reset_after": 0, "max_concurrency": 1}})
        elif re.fullmatch(r"/api/v10/channels/\d+/messages(\?.*)?", self.path):
            self.reply(200, list(reversed(messages)))
        else:
            self.reply(404, {"code": 0, "message": "404: Not Found"})

    def do_POST(self):
        self.take("POST")

    def do_PUT(self):
        self.take("PUT")

    def do_PATCH(self):
        self.take("PATCH")

    def do_DELETE(self):
        self.take("DELETE")

    def take(self, method):
        body = json.loads(self.rfile.read(int(self.headers.get("Content-Length", 0))) or "null")
        tell("call", method=method, path=self.path, body=body, signed="Authorization" in self.headers)
        if re.fullmatch(r"/api/v10/interactions/\d+/[^/]+/callback", self.path):
            self.reply(204)
        elif method == "PUT" and self.path == f"/api/v10/applications/{APPLICATION}/commands":
            self.reply(200, body)
        elif method == "POST" and re.fullmatch(r"/api/v10/channels/\d+/messages", self.path):
            self.post(body)
        elif method == "PATCH":
            self.reply(200, {"id": self.path.rsplit("/", 1)[1]})
        else:
            self.reply(404, {"code": 0, "message": "404: Not Found"})

    def post(self, body):
        plan = plans.pop(0) if plans else None
        if plan == "429":
            tell("refused", retry_after=RETRY_AFTER)
            self.reply(429, {"message": "You are being rate limited.", "retry_after": RETRY_AFTER, "global": False},
                       [("Retry-After", "2"), ("X-RateLimit-Scope", "user")])
            return
        known = by_nonce.get(body.get("nonce")) if body.get("enforce_nonce") else None
        if known is None:
            known = {**body, "id": str(800000000000000000 + len(messages)), "channel_id": CHANNEL, "author": bot()}
            messages.append(known)
            by_nonce[body.get("nonce")] = known
            tell("posted", id=known["id"])
        if plan == "drop":
            self.connection.shutdown(socket.SHUT_RDWR)
            self.close_connection = True
            return
        self.reply(200, known)


server = ThreadingHTTPServer(("127.0.0.1", 0), Platform)
server.daemon_threads = True
port = server.server_address[1]
threading.Thread(target=server.serve_forever, daemon=True).start()
tell("listening", port=port)
for line in sys.stdin:
    order = json.loads(line)
    if "first_post" in order:
        plans.append(order["first_post"])
    else:
        tell("ordered", sockets=len(sockets))
        for one in sockets[-1:]:
            one.dispatch(*order["dispatch"])
