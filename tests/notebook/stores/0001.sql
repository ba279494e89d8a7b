PRAGMA application_id = 1111574868;
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE links (
	id INTEGER NOT NULL, 
	source_stop VARCHAR(40) NOT NULL, 
	source_name VARCHAR(200) NOT NULL, 
	into_stop VARCHAR(40) NOT NULL, 
	into_name VARCHAR(200) NOT NULL, 
	CONSTRAINT pk_links PRIMARY KEY (id), 
	CONSTRAINT uq_links_source_stop UNIQUE (source_stop, source_name, into_stop, into_name)
);
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
COMMIT;
