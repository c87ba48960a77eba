/**
 * The tables, one entry a version, in step with the embedded store's columns. Entries are never changed once released.
 * Words are compared by their bytes, whatever language the database is set up for.
 */
export const migrations: readonly string[] = [
  `
CREATE DOMAIN word AS text COLLATE "C";
CREATE TABLE boards (id word PRIMARY KEY, made_at word NOT NULL);
CREATE TABLE areas (
  board word NOT NULL REFERENCES boards ON DELETE CASCADE, area word NOT NULL,
  head bigint NOT NULL, snapshot bytea, through bigint NOT NULL DEFAULT 0,
  PRIMARY KEY (board, area)
);
CREATE TABLE updates (
  board word NOT NULL, area word NOT NULL, number bigint NOT NULL, bytes bytea NOT NULL,
  PRIMARY KEY (board, area, number),
  FOREIGN KEY (board, area) REFERENCES areas ON DELETE CASCADE
);
CREATE TABLE claims (
  board word NOT NULL, area word NOT NULL, client bigint NOT NULL, membership word NOT NULL,
  -- That of the update by which it was claimed, for those who read only what is new.
  number bigint NOT NULL DEFAULT 0,
  PRIMARY KEY (board, area, client),
  FOREIGN KEY (board, area) REFERENCES areas ON DELETE CASCADE
);
CREATE INDEX claims_by_number ON claims (board, area, number);
CREATE TABLE set_aside (
  board word NOT NULL REFERENCES boards ON DELETE CASCADE, area word NOT NULL,
  bytes bytea NOT NULL, reason word NOT NULL, at word NOT NULL
);
CREATE INDEX set_aside_of_board ON set_aside (board);
CREATE TABLE links (
  id word PRIMARY KEY, board word NOT NULL REFERENCES boards ON DELETE CASCADE, role word NOT NULL,
  hash word NOT NULL UNIQUE, made_at word NOT NULL, ends_at word, revoked_at word
);
CREATE INDEX links_of_board ON links (board);
CREATE TABLE sessions (hash word PRIMARY KEY, made_at word NOT NULL, instructor_until word);
CREATE TABLE grants (
  session word NOT NULL REFERENCES sessions ON DELETE CASCADE, link word NOT NULL REFERENCES links ON DELETE CASCADE,
  PRIMARY KEY (session, link)
);
CREATE INDEX grants_of_link ON grants (link);
CREATE TABLE files (id word PRIMARY KEY, bytes bigint NOT NULL, type word NOT NULL);
CREATE TABLE pieces (
  file word NOT NULL REFERENCES files ON DELETE CASCADE, number integer NOT NULL, bytes bytea NOT NULL,
  PRIMARY KEY (file, number)
);
-- Sound does not get smaller by packing it once more, and a part of a piece is read without unpacking it.
ALTER TABLE pieces ALTER bytes SET STORAGE EXTERNAL;
CREATE TABLE board_files (
  board word NOT NULL REFERENCES boards ON DELETE CASCADE, file word NOT NULL REFERENCES files,
  PRIMARY KEY (board, file)
);
CREATE INDEX boards_of_file ON board_files (file);
CREATE TABLE calendars (
  hash word PRIMARY KEY, board word NOT NULL REFERENCES boards ON DELETE CASCADE, role word NOT NULL,
  link word REFERENCES links ON DELETE CASCADE, membership word NOT NULL, UNIQUE (board, membership)
);
CREATE TABLE settings (key word PRIMARY KEY, value word NOT NULL);
CREATE TABLE attempts (key word PRIMARY KEY, level double precision NOT NULL, at double precision NOT NULL);

-- Gives the update the area's next number. The area's row is locked first, so that of two nodes one comes after the other
-- and sees what that one claimed. Answers 0 where the board is gone, and -1 where a client id is another's.
CREATE FUNCTION append_update(to_board text, to_area text, added bytea, claimed jsonb) RETURNS bigint
LANGUAGE plpgsql AS $$
DECLARE place bigint;
BEGIN
  SELECT head + 1 INTO place FROM areas WHERE board = to_board AND area = to_area FOR UPDATE;
  IF NOT FOUND THEN
    INSERT INTO areas (board, area, head) SELECT id, to_area, 0 FROM boards WHERE id = to_board ON CONFLICT DO NOTHING;
    SELECT head + 1 INTO place FROM areas WHERE board = to_board AND area = to_area FOR UPDATE;
    IF NOT FOUND THEN RETURN 0; END IF;
  END IF;
  IF claimed <> '[]' THEN
    IF EXISTS (
      SELECT FROM jsonb_to_recordset(claimed) AS asked (client bigint, membership text)
      JOIN claims ON claims.client = asked.client
      WHERE board = to_board AND area = to_area AND claims.membership <> asked.membership
    ) THEN RETURN -1; END IF;
    INSERT INTO claims SELECT to_board, to_area, client, membership, place
      FROM jsonb_to_recordset(claimed) AS asked (client bigint, membership text) ON CONFLICT DO NOTHING;
  END IF;
  UPDATE areas SET head = place WHERE board = to_board AND area = to_area;
  INSERT INTO updates VALUES (to_board, to_area, place, added);
  RETURN place;
END $$;
`,
  // The same in fewer statements: what locks the area's row changes it, too.
  `
CREATE OR REPLACE FUNCTION append_update(to_board text, to_area text, added bytea, claimed jsonb) RETURNS bigint
LANGUAGE plpgsql AS $$
DECLARE place bigint;
BEGIN
  UPDATE areas SET head = head + 1 WHERE board = to_board AND area = to_area RETURNING head INTO place;
  IF NOT FOUND THEN
    INSERT INTO areas (board, area, head) SELECT id, to_area, 0 FROM boards WHERE id = to_board ON CONFLICT DO NOTHING;
    UPDATE areas SET head = head + 1 WHERE board = to_board AND area = to_area RETURNING head INTO place;
    IF NOT FOUND THEN RETURN 0; END IF;
  END IF;
  IF claimed <> '[]' THEN
    IF EXISTS (
      SELECT FROM jsonb_to_recordset(claimed) AS asked (client bigint, membership text)
      JOIN claims ON claims.client = asked.client
      WHERE board = to_board AND area = to_area AND claims.membership <> asked.membership
    ) THEN
      UPDATE areas SET head = place - 1 WHERE board = to_board AND area = to_area;
      RETURN -1;
    END IF;
    INSERT INTO claims SELECT to_board, to_area, client, membership, place
      FROM jsonb_to_recordset(claimed) AS asked (client bigint, membership text) ON CONFLICT DO NOTHING;
  END IF;
  INSERT INTO updates VALUES (to_board, to_area, place, added);
  RETURN place;
END $$;
`,
  // The log stays as the area's history. What was there before counts as written now: at the latest, it was.
  `
ALTER TABLE updates ADD COLUMN at word NOT NULL DEFAULT '', ADD COLUMN membership word NOT NULL DEFAULT '';
-- at: when the last update was written that the snapshot holds. trimmed: the log lacks the updates up to this number.
-- told_from: of the time before nothing is known.
ALTER TABLE areas ADD COLUMN at word NOT NULL DEFAULT '', ADD COLUMN trimmed bigint NOT NULL DEFAULT 0,
  ADD COLUMN told_from word NOT NULL DEFAULT '';
UPDATE updates SET at = to_char(now() AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
UPDATE areas SET trimmed = through, told_from = to_char(now() AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'),
  at = to_char(now() AT TIME ZONE 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"');
-- Snapshots that later ones replaced.
CREATE TABLE bases (
  board word NOT NULL, area word NOT NULL, through bigint NOT NULL, at word NOT NULL, bytes bytea NOT NULL,
  PRIMARY KEY (board, area, through),
  FOREIGN KEY (board, area) REFERENCES areas ON DELETE CASCADE
);
ALTER TABLE links ADD COLUMN parent word, ADD COLUMN frozen_at word;
CREATE INDEX links_of_parent ON links (parent);
-- A node of the version before would write updates without an author, and remove the history.
DROP FUNCTION append_update(text, text, bytea, jsonb);
CREATE FUNCTION append_update(
  to_board text, to_area text, added bytea, claimed jsonb, written_at text, writer text
) RETURNS bigint
LANGUAGE plpgsql AS $$
DECLARE place bigint;
BEGIN
  UPDATE areas SET head = head + 1 WHERE board = to_board AND area = to_area RETURNING head INTO place;
  IF NOT FOUND THEN
    INSERT INTO areas (board, area, head) SELECT id, to_area, 0 FROM boards WHERE id = to_board ON CONFLICT DO NOTHING;
    UPDATE areas SET head = head + 1 WHERE board = to_board AND area = to_area RETURNING head INTO place;
    IF NOT FOUND THEN RETURN 0; END IF;
  END IF;
  IF claimed <> '[]' THEN
    IF EXISTS (
      SELECT FROM jsonb_to_recordset(claimed) AS asked (client bigint, membership text)
      JOIN claims ON claims.client = asked.client
      WHERE board = to_board AND area = to_area AND claims.membership <> asked.membership
    ) THEN
      UPDATE areas SET head = place - 1 WHERE board = to_board AND area = to_area;
      RETURN -1;
    END IF;
    INSERT INTO claims SELECT to_board, to_area, client, membership, place
      FROM jsonb_to_recordset(claimed) AS asked (client bigint, membership text) ON CONFLICT DO NOTHING;
  END IF;
  INSERT INTO updates (board, area, number, bytes, at, membership)
    VALUES (to_board, to_area, place, added, written_at, writer);
  RETURN place;
END $$;
`,
  // What the studio's list shows and goes by, so that it need not open every board.
  'ALTER TABLE boards ADD COLUMN listed word, ADD COLUMN summary word',
];
