-- schema 0001: 51 transactions, last digest 6d9a700822ccc2a5e65d5c6515cb849b294a8603ece3662b6d759d39b6b2064e
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE baselines (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	"insert" TEXT NOT NULL, 
	channel TEXT NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	n_shots BIGINT NOT NULL, 
	centre DOUBLE, 
	spread DOUBLE, 
	lower DOUBLE, 
	upper DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "baselines" VALUES(1,1,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "baselines" VALUES(2,1,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "baselines" VALUES(3,1,1,'B-11','fill_time',4,9,6,0.41,0.0,4.01999999999999968469e-01,0.418);
INSERT INTO "baselines" VALUES(4,6,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "baselines" VALUES(5,6,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "baselines" VALUES(6,6,1,'B-11','fill_time',4,9,6,0.41,0.0,4.01999999999999968469e-01,0.418);
CREATE TABLE bath_checks (
	id INTEGER NOT NULL, 
	bath_id INTEGER NOT NULL, 
	concentration DOUBLE, 
	temperature DOUBLE, 
	checked TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(bath_id) REFERENCES baths (id)
);
CREATE TABLE baths (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	concentration_low DOUBLE, 
	concentration_high DOUBLE, 
	temperature_low DOUBLE, 
	temperature_high DOUBLE, 
	made_up TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:11:40.933012Z','','2026-11-28T16:11:40.933012Z');
CREATE TABLE checkpoints (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	basis TEXT NOT NULL, 
	state TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
CREATE TABLE corrections (
	id INTEGER NOT NULL, 
	entry TEXT NOT NULL, 
	entry_id BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (entry, entry_id)
);
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:11:44.788848Z');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:11:33.846602Z');
CREATE TABLE dimensions (
	id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	value_mm DOUBLE NOT NULL, 
	instrument TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id)
);
CREATE TABLE dispositions (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	cavity BIGINT, 
	decision TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:11:43.758384Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:11:44.325468Z');
CREATE TABLE events (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	at_shot BIGINT NOT NULL, 
	kind TEXT NOT NULL, 
	text TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:11:38.739552Z');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:11:38.889710Z');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:11:39.329957Z');
CREATE TABLE faults (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT, 
	kind TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	raw BLOB NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "faults" VALUES(1,1,8,'torn','values changed while they were read',X'0102','2026-01-05T06:08:00.000000Z');
CREATE TABLE gaps (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "gaps" VALUES(1,1,11,12,'counter went on from 10 to 13','2026-01-05T06:11:00.000000Z');
CREATE TABLE inserts (
	id INTEGER NOT NULL, 
	serial TEXT NOT NULL, 
	design_id INTEGER, 
	print_batch TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(design_id) REFERENCES designs (id), 
	UNIQUE (serial)
);
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:11:33.846602Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:11:33.923721Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:11:38.207852Z');
CREATE TABLE inspections (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	cavity BIGINT NOT NULL, 
	quantity TEXT NOT NULL, 
	value DOUBLE, 
	low DOUBLE, 
	high DOUBLE, 
	unit TEXT NOT NULL, 
	given TEXT NOT NULL, 
	finding TEXT NOT NULL, 
	half TEXT NOT NULL, 
	instrument TEXT NOT NULL, 
	inspected TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:11:42.239670Z','','2026-11-28T16:11:42.239670Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:11:43.030824Z','','2026-11-28T16:11:43.030824Z');
CREATE TABLE judgings (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	from_shot BIGINT NOT NULL, 
	basis TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "judgings" VALUES(1,1,0,'2af2923267cbea8e','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'2af2923267cbea8e','mounting of B-12 in moving at shot 23, entered after shot 26','2026-11-28T16:11:38.207852Z');
INSERT INTO "judgings" VALUES(3,1,25,'2af2923267cbea8e','lot at shot 25, entered after shot 26','2026-11-28T16:11:38.889710Z');
INSERT INTO "judgings" VALUES(4,1,26,'2af2923267cbea8e','lot at shot 26, entered after shot 26','2026-11-28T16:11:39.329957Z');
INSERT INTO "judgings" VALUES(5,1,26,'2af2923267cbea8e','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:11:39.721921Z');
INSERT INTO "judgings" VALUES(6,1,1,'2af2923267cbea8e','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:11:40.199766Z');
INSERT INTO "judgings" VALUES(7,1,25,'2af2923267cbea8e','entry taken back: mistyped, entered after shot 26','2026-11-28T16:11:44.788848Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','c8d8283f7a66a40357abd033b711d8afc947b0a97fc0c296744982f079ea8143',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','7d69275eb2cbc1c665bc817ba25eacfe1ee9224da749f5470605f704a63a44fa',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','0b411546f8572ef06c8b7cf5f1c50b8df0b81cd79d29669a4babf9c0c05b850d',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','56b38c7793daecd3e296ec561782b5fe1da5f9578c2d99188f88e01d4acd215b',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','ed7414dda499b0f83fe9a1f6a106fdc08aeece9e57158b64d9c77cbbf3d60f50',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','44090ba19214a56907e08477dd321babf45d96f6ddd0dababa4a0708bbe249a6',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','d58ad861b8ac3295291ad8b4686596012d5f05899f81b2bada9d6fe028736795',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','1d8e69f792967d8ae4c0be546b95593d156d47e1c8d01839428e93b145a922ad',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','de263c0acc0127a095aacbaf36e7108f4ffbc93d31eddb84d5ab2336805d5bf2',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','e5ee5b410728b68f84c8ff5bb7874f1724777e5597f51542a7eeb40cf64ff35b',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','374b41e82c0ae6da5404db5365099b343f0d31061898cf89a829a92e5c210458',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','c32c087b895e6cd2fa46154476acff5e31e91096c4de84d73b0eac6d473ac072',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','c0b770f8240fd063fb84c912c954d4274c9c51329403d82ed77c03d39b1575c9',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','1d4a280d72f01ea0107f703fbf4d0a1954c79feb368aa4ebd056b4a22b9fb707',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','7d52703f39bd8e600e18739717d0241f83abaf206b249bdd88a3c8b307d97566',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','31bbd3dd269fe7354d83ae7d434a3d31d2510842a6ef2428e4bffd9c6fddcc9a',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','7e7ac7efb9610fe57b3b064c491238608d5f0eddd000d03533ae40e4be91312a',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','0595b1d5f21e7780854f602c3413661e6246c15a6ad8bb8c8f8974cd5464a7dc',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','4456657a743ee22304cceb12fd784b838ba378fe2cd8a35a76acc2dbd30d41ba',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','4a32f6ac16cc959601988dbea6a83ae32b1048cce7f03796a836197277365825',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','fa1bf9f2e7262c362afd1780965fca9bca4f78fad6b95164e951ed98d24cc883',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','d07ffa7a984651f83bf95fc95c143bc0d15d547db72c946b2c99388d12a8e52e',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','24bc31ac0b89b7976464105a038b22e43930a00b56b1462d2b52333ddb9f5e8a',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','1129607e771fecb4aa1ffcc1ab6c6b6cc8223be36bebf5b8cd4bf9dad4f0da08',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','f4913e4e0c53dd4d3a9e9230dcce5797cacf2ddeeed19e6aac15a2ec4303d6ef',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','8a383a6a82d10959a0bcea337a3531223e642509859034ae07e92fe085cd22b8',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','878d5c5d5abf90c07db5aa75ebd5585edbebe75fd8d79cff6ab765cbf6e0603d',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','251e908d075bdaea3e0f79c8d97eddb35108f9ef6119400115a9d2cc8268ec17',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','e876f1b1a380525057862448718f98eb8d686ff2190290f5d377076eda2f3e8a',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','948ed19b843d26b4f71401a6a899d3fde7efefc95e0436861690ad30e1ded34e',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 signals:3 verdicts:14 signals:4 signals:5 verdicts:15 signals:6 signals:7 verdicts:16 signals:8 signals:9 verdicts:17 signals:10 signals:11 verdicts:18 signals:12 signals:13 verdicts:19 signals:14 signals:15 verdicts:20 signals:16 signals:17 verdicts:21 verdicts:22 verdicts:23 verdicts:24','96db8058e548b40666b99e4398f92314be9aa8648e30fdc4bb2d3af10286179b',NULL);
INSERT INTO "ledger" VALUES(33,'inserts:3 mountings:3 judgings:2','b6f66e3e8f86fda41dff103de10136468f42262406e0b841fb1644feab1b3b03',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25 verdicts:26 verdicts:27 verdicts:28','f8f309d8dba6355888b4e71ae1398c5aac4899a3c23726b914eb7c11bf7dbe84',NULL);
INSERT INTO "ledger" VALUES(35,'events:1','9c99fd97a967ea4138303ae1b7ec2a185a7d9b206321328432f52f37f4452a08',NULL);
INSERT INTO "ledger" VALUES(36,'events:2 judgings:3','6038b8a29ef21f70acd51253453cb0708b5601230b73a8c2dd093a5b4303093a',NULL);
INSERT INTO "ledger" VALUES(37,'verdicts:29 verdicts:30','614047da63395d219817331cf0bef6b9aa77890d38fe60718ff4320ca816c061',NULL);
INSERT INTO "ledger" VALUES(38,'events:3 judgings:4','7de262d8934714449f382dc119583042fb6fa25696794a32930cb7b035d249bd',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:31','67e8f6f742c9b689d49f40ae1aeaaf38ae501f42e1f55c1cd05e51b0622bbe8b',NULL);
INSERT INTO "ledger" VALUES(40,'removals:1 judgings:5','69b50eba87234ac6339a73aaab66807e1861c34dafdac21d11466c3ea635aad3',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:32','9631b7cfc69c4f618380b8bde1683b44a636ef2d475ea145515af378ecd7b4b0',NULL);
INSERT INTO "ledger" VALUES(42,'makings:1 judgings:6','6984a6b2c4b345a0165ab1b3c46ad35fa715c16de3eaa6532d67ba8ab32416f0',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:33 verdicts:34 verdicts:35 verdicts:36 verdicts:37 verdicts:38 verdicts:39 verdicts:40 baselines:4 baselines:5 baselines:6 verdicts:41 verdicts:42 verdicts:43 verdicts:44 signals:18 verdicts:45 signals:19 signals:20 verdicts:46 signals:21 signals:22 verdicts:47 signals:23 signals:24 verdicts:48 signals:25 signals:26 verdicts:49 signals:27 signals:28 verdicts:50 signals:29 signals:30 verdicts:51 signals:31 signals:32 verdicts:52 verdicts:53 verdicts:54 verdicts:55 verdicts:56','37dda6175a88930cc9a88d2276b567882450838d7da2451ad92d66998fffa45f',NULL);
INSERT INTO "ledger" VALUES(44,'baths:1','110304b44977b067590ab5c4a454edff571c013b005cf614b93e4005ac504203',NULL);
INSERT INTO "ledger" VALUES(45,'soaks:1 soaks:2','25f3ee0b93a029fd0d237c7605ab885cc0bcf8d36611c3c6ea244ef26f997da0',NULL);
INSERT INTO "ledger" VALUES(46,'inspections:1','3ba9abbd47e65490a8d9a24ea9b6113a38b54dc64306014d77d7cab2b2c659b7',NULL);
INSERT INTO "ledger" VALUES(47,'inspections:2','ca9a459e9e60086eeb8b102d4aa37e1f1f8e622e6becf941dadd5092d64856f2',NULL);
INSERT INTO "ledger" VALUES(48,'dispositions:1','ed08be4a21634c01bf95c91586e85df7900c33d6371143dfce79bb7788af9c25',NULL);
INSERT INTO "ledger" VALUES(49,'dispositions:2','939e56cbc8d20630d36b9e0af9a3f3bdffffb59abfe62ecd829e620cbea97fa5',NULL);
INSERT INTO "ledger" VALUES(50,'corrections:1 judgings:7','b890b054fc3e4c1ee46f903cea38c8b20099c388538e7ed9d77bb4e2708d27ff',NULL);
INSERT INTO "ledger" VALUES(51,'verdicts:57 verdicts:58','6d9a700822ccc2a5e65d5c6515cb849b294a8603ece3662b6d759d39b6b2064e',NULL);
CREATE TABLE links (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	state TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "links" VALUES(1,1,'lost','no answer','2026-01-05T06:27:00.000000Z');
CREATE TABLE makings (
	id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	design TEXT, 
	print_batch TEXT, 
	resin TEXT, 
	plate TEXT, 
	plate_position TEXT, 
	orientation TEXT, 
	wash TEXT, 
	post_cure TEXT, 
	cured TEXT, 
	storage TEXT, 
	remark TEXT, 
	layer_um DOUBLE, 
	mass_g DOUBLE, 
	cost DOUBLE, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id)
);
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:11:40.199766Z');
CREATE TABLE matches (
	id INTEGER NOT NULL, 
	weighing_id INTEGER NOT NULL, 
	shot BIGINT, 
	basis TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(weighing_id) REFERENCES weighings (id)
);
CREATE TABLE mountings (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	half TEXT NOT NULL, 
	at_shot BIGINT NOT NULL, 
	single_use BOOLEAN NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "mountings" VALUES(1,1,1,'moving',1,0,'2026-11-28T16:11:33.846602Z');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',1,0,'2026-11-28T16:11:33.923721Z');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:11:38.207852Z');
CREATE TABLE presence (
	id INTEGER NOT NULL, 
	role TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (role)
);
CREATE TABLE presses (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:11:33.846602Z');
CREATE TABLE queued (
	id INTEGER NOT NULL, 
	series_id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(series_id) REFERENCES inserts (id)
);
CREATE TABLE removals (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	insert_id INTEGER NOT NULL, 
	at_shot BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "removals" VALUES(1,1,2,26,'gate worn','2026-11-28T16:11:39.721921Z');
CREATE TABLE shots (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	counter BIGINT NOT NULL, 
	time TEXT NOT NULL, 
	trial_id INTEGER, 
	cushion DOUBLE, 
	peak_pressure DOUBLE, 
	fill_time DOUBLE, 
	switchover_pressure DOUBLE, 
	switchover_position DOUBLE, 
	recovery_time DOUBLE, 
	cycle_time DOUBLE, 
	back_pressure DOUBLE, 
	melt_temperature DOUBLE, 
	insert_temperature DOUBLE, 
	clamp_force DOUBLE, 
	part_weight DOUBLE, 
	mass_balance DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	FOREIGN KEY(trial_id) REFERENCES trials (id), 
	UNIQUE (press_id, shot)
);
INSERT INTO "shots" VALUES(1,1,1,1,'2026-01-05T06:01:00.000000Z',1,5.0,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(2,1,2,2,'2026-01-05T06:02:00.000000Z',1,5.02,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(3,1,3,3,'2026-01-05T06:03:00.000000Z',1,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(4,1,4,4,'2026-01-05T06:04:00.000000Z',1,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(5,1,5,5,'2026-01-05T06:05:00.000000Z',1,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(6,1,6,6,'2026-01-05T06:06:00.000000Z',1,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(7,1,7,7,'2026-01-05T06:07:00.000000Z',1,5.02,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(8,1,8,8,'2026-01-05T06:08:00.000000Z',1,4.99,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(9,1,9,9,'2026-01-05T06:09:00.000000Z',1,5.01,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(10,1,10,10,'2026-01-05T06:10:00.000000Z',1,4.98,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(11,1,13,13,'2026-01-05T06:13:00.000000Z',1,4.99,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(12,1,14,14,'2026-01-05T06:14:00.000000Z',1,4.95,519.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(13,1,15,15,'2026-01-05T06:15:00.000000Z',1,4.86,516.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(14,1,16,16,'2026-01-05T06:16:00.000000Z',1,4.82,508.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(15,1,17,17,'2026-01-05T06:17:00.000000Z',1,4.77999999999999936051e+00,505.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(16,1,18,18,'2026-01-05T06:18:00.000000Z',1,4.69,503.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(17,1,19,19,'2026-01-05T06:19:00.000000Z',1,4.64999999999999946709e+00,500.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(18,1,20,20,'2026-01-05T06:20:00.000000Z',1,4.56000000000000049737e+00,492.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(19,1,21,21,'2026-01-05T06:21:00.000000Z',1,4.52,489.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(20,1,22,22,'2026-01-05T06:22:00.000000Z',1,4.47999999999999953814e+00,487.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(21,1,23,23,'2026-01-05T06:23:00.000000Z',1,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(22,1,24,24,'2026-01-05T06:24:00.000000Z',1,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(23,1,25,25,'2026-01-05T06:25:00.000000Z',1,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(24,1,26,26,'2026-01-05T06:26:00.000000Z',1,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE signals (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	chart TEXT NOT NULL, 
	channel TEXT NOT NULL, 
	rule TEXT NOT NULL, 
	value DOUBLE, 
	centre DOUBLE, 
	lower DOUBLE, 
	upper DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "signals" VALUES(1,1,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(2,1,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(3,1,1,16,'individuals','peak_pressure','below',508.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(4,1,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(5,1,1,17,'individuals','peak_pressure','below',505.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(6,1,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(7,1,1,18,'individuals','peak_pressure','below',503.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(8,1,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(9,1,1,19,'individuals','peak_pressure','below',500.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(10,1,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(11,1,1,20,'individuals','peak_pressure','below',492.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(12,1,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(13,1,1,21,'individuals','peak_pressure','below',489.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(14,1,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(15,1,1,22,'individuals','peak_pressure','below',487.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(16,1,1,23,'mr','cushion','above',5.10000000000000675015e-01,2.39999999999994870214e-02,0.0,1.84067803645713345961e-01);
INSERT INTO "signals" VALUES(17,1,1,23,'mr','peak_pressure','above',37.5,2.1,0.0,1.61059328190002624126e+01);
INSERT INTO "signals" VALUES(18,6,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(19,6,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(20,6,1,16,'individuals','peak_pressure','below',508.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(21,6,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(22,6,1,17,'individuals','peak_pressure','below',505.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(23,6,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(24,6,1,18,'individuals','peak_pressure','below',503.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(25,6,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(26,6,1,19,'individuals','peak_pressure','below',500.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(27,6,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(28,6,1,20,'individuals','peak_pressure','below',492.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(29,6,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(30,6,1,21,'individuals','peak_pressure','below',489.5,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
INSERT INTO "signals" VALUES(31,6,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.91411118596710760897e+00,5.08922214736622446906e+00);
INSERT INTO "signals" VALUES(32,6,1,22,'individuals','peak_pressure','below',487.0,521.75,5.11319386676348472051e+02,5.32180613323651527943e+02);
CREATE TABLE soak_ends (
	id INTEGER NOT NULL, 
	soak_id INTEGER NOT NULL, 
	came_out TEXT NOT NULL, 
	cleared BOOLEAN NOT NULL, 
	remark TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(soak_id) REFERENCES soaks (id)
);
CREATE TABLE soaks (
	id INTEGER NOT NULL, 
	bath_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	cavity BIGINT NOT NULL, 
	went_in TEXT NOT NULL, 
	due TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(bath_id) REFERENCES baths (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:11:41.074817Z','2026-11-29T16:11:41.074817Z','','2026-11-28T16:11:41.074817Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:11:41.074817Z','2026-11-29T16:11:41.074817Z','','2026-11-28T16:11:41.074817Z');
CREATE TABLE trials (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	part TEXT NOT NULL, 
	resin TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "trials" VALUES(1,'cap trial 7','cap','PP','2026-01-05T06:00:00.000000Z');
CREATE TABLE verdicts (
	id INTEGER NOT NULL, 
	judging_id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT NOT NULL, 
	"insert" TEXT NOT NULL, 
	shots_on_insert BIGINT NOT NULL, 
	settling BOOLEAN NOT NULL, 
	verdict TEXT NOT NULL, 
	sentence TEXT NOT NULL, 
	signals TEXT NOT NULL, 
	cause TEXT NOT NULL, 
	"group" TEXT NOT NULL, 
	weight DOUBLE, 
	onset BIGINT, 
	onset_low BIGINT, 
	onset_high BIGINT, 
	left_median DOUBLE, 
	left_low DOUBLE, 
	left_high DOUBLE, 
	statistic DOUBLE, 
	threshold DOUBLE, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	UNIQUE (press_id, shot, judging_id)
);
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','no change seen in these values since shot 4; shot 4 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','no change seen in these values since shot 4; shot 5 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','no change seen in these values since shot 4; shot 6 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','no change seen in these values since shot 4; shot 7 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','no change seen in these values since shot 4; shot 8 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','no change seen in these values since shot 4; shot 9 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','no change seen in these values since shot 4; shot 10 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','no change seen in these values since shot 4; shot 13 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.55591828872485593571e+00,2.9);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.55591828872485593571e+00,2.9);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'watch','cushion down 0.117 mm and peak pressure down 4.8 bar since shot 15 (8 to 16): most likely the insert (0.80), crack or breakage; no end in sight; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.04435591717821196766e-01,15,8,16,NULL,NULL,NULL,5.50294586701274912599e+00,2.9);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'watch','cushion down 0.119 mm and peak pressure down 4.9 bar since shot 15 (8 to 17): most likely the insert (0.80), crack or breakage; no end in sight; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.04435591717821196766e-01,15,8,17,NULL,292.0,NULL,5.50294586701274912599e+00,2.9);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'watch','cushion down 0.187 mm and peak pressure down 7.6 bar since shot 15 (4 to 18): most likely the insert (0.89), crack or breakage; about 14 shots left (11 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.85371792776618482534e-01,15,4,18,14.0,11.0,17.0,1.13015258126492916805e+01,2.9);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'watch','cushion down 0.197 mm and peak pressure down 8.0 bar since shot 15 (4 to 19): most likely the insert (0.89), crack or breakage; about 11 shots left (9 to 14); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.85371792776618482534e-01,15,4,19,11.0,9.0,14.0,1.13015258126492916805e+01,2.9);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.412 mm and peak pressure down 13.5 bar since shot 7 (4 to 20): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.942371557057315,7,4,20,0.0,0.0,0.0,1.69496881144188265015e+01,2.9);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.453 mm and peak pressure down 14.9 bar since shot 7 (4 to 21): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.942371557057315,7,4,21,0.0,0.0,0.0,1.69496881144188265015e+01,2.9);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.573 mm and peak pressure down 18.4 bar since shot 7 (4 to 15): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',9.38911994378804792837e-01,7,4,15,0.0,0.0,0.0,2.13579673153847302566e+01,2.9);
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.631 mm and peak pressure down 20.2 bar since shot 7 (4 to 15): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','mr:cushion:above;mr:peak_pressure:above','parting-line wear','insert',9.38911994378804792837e-01,7,4,15,0.0,0.0,0.0,2.13579673153847302566e+01,2.9);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'swap','cushion down 0.197 mm and peak pressure down 9.2 bar since shot 16 (6 to 24): most likely the insert (0.77), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',7.69737862681053819358e-01,16,6,24,NULL,NULL,NULL,1.62095998344625726872e+01,2.9);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'swap','cushion down 0.197 mm and peak pressure down 9.2 bar since shot 16 (6 to 25): most likely the insert (0.77), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',7.69737862681053819358e-01,16,6,25,NULL,NULL,NULL,1.62095998344625726872e+01,2.9);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','cushion down 0.229 mm and peak pressure down 10.3 bar since shot 16 (9 to 26): most likely the insert (0.79), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',7.92630454422592278795e-01,16,9,26,NULL,NULL,NULL,1.82078844898149370123e+01,2.9);
INSERT INTO "verdicts" VALUES(25,2,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,26,'B-12',4,0,'keep','no change seen in these values since shot 26; shot 4 on B-12; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,26,'B-12',4,0,'keep','no change seen in these values since shot 26; shot 4 on B-12; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(31,4,1,26,'B-12',4,0,'keep','no change seen in these values since shot 26; shot 4 on B-12; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(32,5,1,26,'B-12',4,0,'keep','no change seen in these values since shot 26; shot 4 on B-12; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(33,6,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(34,6,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(35,6,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(36,6,1,4,'B-11',4,0,'keep','no change seen in these values since shot 4; shot 4 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(37,6,1,5,'B-11',5,0,'keep','no change seen in these values since shot 4; shot 5 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(38,6,1,6,'B-11',6,0,'keep','no change seen in these values since shot 4; shot 6 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(39,6,1,7,'B-11',7,0,'keep','no change seen in these values since shot 4; shot 7 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(40,6,1,8,'B-11',8,0,'keep','no change seen in these values since shot 4; shot 8 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(41,6,1,9,'B-11',9,0,'keep','no change seen in these values since shot 4; shot 9 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(42,6,1,10,'B-11',10,0,'keep','no change seen in these values since shot 4; shot 10 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(43,6,1,13,'B-11',13,0,'keep','no change seen in these values since shot 4; shot 13 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(44,6,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.55591828872485593571e+00,2.9);
INSERT INTO "verdicts" VALUES(45,6,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.55591828872485593571e+00,2.9);
INSERT INTO "verdicts" VALUES(46,6,1,16,'B-11',16,0,'watch','cushion down 0.117 mm and peak pressure down 4.8 bar since shot 15 (8 to 16): most likely the insert (0.80), crack or breakage; no end in sight; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.04435591717821196766e-01,15,8,16,NULL,NULL,NULL,5.50294586701274912599e+00,2.9);
INSERT INTO "verdicts" VALUES(47,6,1,17,'B-11',17,0,'watch','cushion down 0.119 mm and peak pressure down 4.9 bar since shot 15 (8 to 17): most likely the insert (0.80), crack or breakage; no end in sight; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.04435591717821196766e-01,15,8,17,NULL,292.0,NULL,5.50294586701274912599e+00,2.9);
INSERT INTO "verdicts" VALUES(48,6,1,18,'B-11',18,0,'watch','cushion down 0.187 mm and peak pressure down 7.6 bar since shot 15 (4 to 18): most likely the insert (0.89), crack or breakage; about 14 shots left (11 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.85371792776618482534e-01,15,4,18,14.0,11.0,17.0,1.13015258126492916805e+01,2.9);
INSERT INTO "verdicts" VALUES(49,6,1,19,'B-11',19,0,'watch','cushion down 0.197 mm and peak pressure down 8.0 bar since shot 15 (4 to 19): most likely the insert (0.89), crack or breakage; about 11 shots left (9 to 14); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.85371792776618482534e-01,15,4,19,11.0,9.0,14.0,1.13015258126492916805e+01,2.9);
INSERT INTO "verdicts" VALUES(50,6,1,20,'B-11',20,0,'swap','cushion down 0.412 mm and peak pressure down 13.5 bar since shot 7 (4 to 20): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.942371557057315,7,4,20,0.0,0.0,0.0,1.69496881144188265015e+01,2.9);
INSERT INTO "verdicts" VALUES(51,6,1,21,'B-11',21,0,'swap','cushion down 0.453 mm and peak pressure down 14.9 bar since shot 7 (4 to 21): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',0.942371557057315,7,4,21,0.0,0.0,0.0,1.69496881144188265015e+01,2.9);
INSERT INTO "verdicts" VALUES(52,6,1,22,'B-11',22,0,'swap','cushion down 0.573 mm and peak pressure down 18.4 bar since shot 7 (4 to 15): most likely the insert (0.94), parting-line wear; about 0 shots left (0 to 0); look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',9.38911994378804792837e-01,7,4,15,0.0,0.0,0.0,2.13579673153847302566e+01,2.9);
INSERT INTO "verdicts" VALUES(53,6,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(54,6,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(55,6,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(56,6,1,26,'B-12',4,0,'keep','no change seen in these values since shot 26; shot 4 on B-12; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(57,7,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 4','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(58,7,1,26,'B-12',4,0,'keep','no change seen in these values since shot 26; shot 4 on B-12; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE weighings (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	balance TEXT NOT NULL, 
	grams DOUBLE NOT NULL, 
	g_per_mm DOUBLE, 
	dose_mm DOUBLE, 
	after_s DOUBLE, 
	raw BLOB NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "weighings" VALUES(1,1,'bench',12.34,NULL,NULL,40.0,X'31322E3334','2026-01-05T06:27:20.000000Z');
CREATE INDEX events_by_press ON events (press_id, at_shot);
CREATE INDEX faults_by_press ON faults (press_id, id);
CREATE INDEX gaps_by_press ON gaps (press_id, first);
CREATE INDEX judgings_by_press ON judgings (press_id, id);
CREATE INDEX links_by_press ON links (press_id, id);
CREATE INDEX baselines_by_press ON baselines (press_id, last);
CREATE INDEX checkpoints_by_press ON checkpoints (press_id, shot);
CREATE INDEX mountings_by_press ON mountings (press_id, at_shot);
CREATE INDEX removals_by_press ON removals (press_id, at_shot);
CREATE INDEX signals_by_press ON signals (press_id, shot);
CREATE INDEX baths_by_name ON baths (name, id);
CREATE INDEX bath_checks_by_bath ON bath_checks (bath_id, id);
CREATE INDEX dispositions_by_press ON dispositions (press_id, id);
CREATE INDEX inspections_by_part ON inspections (press_id, shot);
CREATE INDEX soaks_by_part ON soaks (press_id, shot);
CREATE INDEX weighings_by_press ON weighings (press_id, id);
CREATE INDEX dimensions_by_insert ON dimensions (insert_id, id);
CREATE INDEX makings_by_insert ON makings (insert_id, id);
CREATE INDEX matches_by_shot ON matches (shot);
CREATE INDEX matches_by_weighing ON matches (weighing_id, id);
CREATE INDEX soak_ends_by_soak ON soak_ends (soak_id, id);
CREATE INDEX queued_by_series ON queued (series_id, id);
COMMIT;
