PRAGMA application_id = 1111574868;
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0002');
CREATE TABLE levels (
	item VARCHAR(200) NOT NULL, 
	lot VARCHAR(200) NOT NULL, 
	amount BIGINT NOT NULL, 
	value_millionths BIGINT NOT NULL, 
	CONSTRAINT pk_levels PRIMARY KEY (item, lot)
);
INSERT INTO "levels" VALUES('semolina','S-1',700000,1120000);
CREATE TABLE links (
	id INTEGER NOT NULL, 
	source_stop VARCHAR(40) NOT NULL, 
	source_name VARCHAR(200) NOT NULL, 
	into_stop VARCHAR(40) NOT NULL, 
	into_name VARCHAR(200) NOT NULL, 
	CONSTRAINT pk_links PRIMARY KEY (id), 
	CONSTRAINT uq_links_source_stop UNIQUE (source_stop, source_name, into_stop, into_name)
);
INSERT INTO "links" VALUES(1,'ingredient lot','S-1','batch','2026-11-27/1');
CREATE TABLE movements (
	id INTEGER NOT NULL, 
	entry INTEGER NOT NULL, 
	time VARCHAR(32) NOT NULL, 
	item VARCHAR(200) NOT NULL, 
	lot VARCHAR(200) NOT NULL, 
	amount BIGINT NOT NULL, 
	value_millionths BIGINT NOT NULL, 
	reason VARCHAR(20) NOT NULL, 
	override TEXT NOT NULL, 
	CONSTRAINT pk_movements PRIMARY KEY (id), 
	CONSTRAINT ck_movements_amount CHECK (amount <> 0)
);
INSERT INTO "movements" VALUES(1,1,'2026-11-27T09:00:00.000000+00:00','semolina','S-1',1000000,1600000,'bought','');
INSERT INTO "movements" VALUES(2,2,'2026-11-27T10:00:00.000000+00:00','semolina','S-1',-300000,-480000,'used','');
CREATE TABLE newest (
	kind VARCHAR(40) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	revision INTEGER NOT NULL, 
	about VARCHAR(200) NOT NULL, 
	day VARCHAR(10) NOT NULL, 
	CONSTRAINT pk_newest PRIMARY KEY (kind, name), 
	CONSTRAINT fk_newest_revision FOREIGN KEY(revision) REFERENCES revisions (id)
);
INSERT INTO "newest" VALUES('recipe','Copper',2,'','');
INSERT INTO "newest" VALUES('batch','2026-11-27/1',3,'Copper','2026-11-27');
CREATE TABLE people (
	id INTEGER NOT NULL, 
	code VARCHAR(40) NOT NULL, 
	time VARCHAR(32) NOT NULL, 
	body TEXT, 
	CONSTRAINT pk_people PRIMARY KEY (id), 
	CONSTRAINT uq_people_code UNIQUE (code)
);
INSERT INTO "people" VALUES(1,'person 1','2026-11-27T19:00:00.000000+00:00','{"name": "Someone Invented"}');
INSERT INTO "people" VALUES(2,'person 2','2026-11-27T19:00:00.000000+00:00',NULL);
CREATE TABLE reservations (
	id INTEGER NOT NULL, 
	time VARCHAR(32) NOT NULL, 
	holder VARCHAR(200) NOT NULL, 
	item VARCHAR(200) NOT NULL, 
	lot VARCHAR(200) NOT NULL, 
	amount BIGINT NOT NULL, 
	CONSTRAINT pk_reservations PRIMARY KEY (id), 
	CONSTRAINT ck_reservations_amount CHECK (amount <> 0)
);
INSERT INTO "reservations" VALUES(1,'2026-11-27T19:00:00.000000+00:00','batch 2026-11-27/1','semolina','S-1',260000);
CREATE TABLE revisions (
	id INTEGER NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	version INTEGER NOT NULL, 
	time VARCHAR(32) NOT NULL, 
	reason TEXT NOT NULL, 
	body TEXT, 
	CONSTRAINT pk_revisions PRIMARY KEY (id), 
	CONSTRAINT ck_revisions_version CHECK (version > 0), 
	CONSTRAINT uq_revisions_kind UNIQUE (kind, name, version)
);
INSERT INTO "revisions" VALUES(1,'recipe','Copper',1,'2026-11-27T09:00:00.000000+00:00','','{"toml": "name = \"Copper\"\n"}');
INSERT INTO "revisions" VALUES(2,'recipe','Copper',2,'2026-11-27T10:00:00.000000+00:00','malt was faint','{"toml": "name = \"Copper\" # malt up\n"}');
INSERT INTO "revisions" VALUES(3,'batch','2026-11-27/1',1,'2026-11-27T19:00:00.000000+00:00','','{"about": "Copper", "day": "2026-11-27", "state": "planned"}');
INSERT INTO "revisions" VALUES(4,'night','2026-11-26/1',1,'2026-11-27T19:00:00.000000+00:00','','{"day": "2026-11-26", "with": "person 1"}');
INSERT INTO "revisions" VALUES(5,'night','2026-11-26/1',2,'2026-11-27T19:00:00.000000+00:00','a slip',NULL);
CREATE TABLE tombstones (
	id INTEGER NOT NULL, 
	kind VARCHAR(40) NOT NULL, 
	name VARCHAR(200) NOT NULL, 
	time VARCHAR(32) NOT NULL, 
	versions INTEGER NOT NULL, 
	CONSTRAINT pk_tombstones PRIMARY KEY (id)
);
CREATE INDEX ix_movements_item ON movements (item);
CREATE INDEX ix_movements_lot ON movements (lot);
CREATE INDEX ix_newest_about ON newest (kind, about);
CREATE INDEX ix_newest_day ON newest (kind, day);
CREATE INDEX ix_reservations_holder ON reservations (holder);
CREATE INDEX ix_reservations_item ON reservations (item);
CREATE INDEX ix_movements_entry ON movements (entry);
CREATE INDEX ix_links_into ON links (into_stop, into_name);
COMMIT;
