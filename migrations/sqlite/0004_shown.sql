-- What the message of a post shows that is out, hashed: one that would show the same is not edited.
ALTER TABLE post ADD COLUMN shown TEXT;
