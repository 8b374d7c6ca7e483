-- schema 0008: 55 transactions, last digest 06c4cc064f976b4c5a38fe3312aa1ff8f81a307f29d378457215a5382ac0798a
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0008');
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
	upper DOUBLE, per_100 INTEGER, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "baselines" VALUES(1,1,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.88366904335767770817e+00,5.11966428997565436986e+00,10);
INSERT INTO "baselines" VALUES(2,1,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.07692769407327830315e+02,5.35807230592672226535e+02,10);
INSERT INTO "baselines" VALUES(3,1,1,'B-11','fill_time',4,9,6,0.41,0.0016,3.97173824100184091889e-01,4.2282617589981585926e-01,10);
INSERT INTO "baselines" VALUES(4,7,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.88366904335767770817e+00,5.11966428997565436986e+00,10);
INSERT INTO "baselines" VALUES(5,7,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.07692769407327830315e+02,5.35807230592672226535e+02,10);
INSERT INTO "baselines" VALUES(6,7,1,'B-11','fill_time',4,9,6,0.41,0.0016,3.97173824100184091889e-01,4.2282617589981585926e-01,10);
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
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:17:37.082669Z','','2026-11-28T16:17:37.082669Z');
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
	time TEXT NOT NULL, initials TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (entry, entry_id)
);
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:17:39.426893Z',NULL);
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:17:27.819803Z');
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
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:17:38.723871Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:17:39.132853Z');
CREATE TABLE events (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	at_shot BIGINT NOT NULL, 
	kind TEXT NOT NULL, 
	text TEXT NOT NULL, 
	time TEXT NOT NULL, half TEXT, initials TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:17:34.467110Z','moving',NULL);
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:17:34.965555Z',NULL,NULL);
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:17:35.500343Z',NULL,NULL);
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:17:27.819803Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:17:27.860868Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:17:29.124486Z');
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
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:17:38.293278Z','','2026-11-28T16:17:38.293278Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:17:38.427080Z','','2026-11-28T16:17:38.427080Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'bdb9a0a83411d666','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'bdb9a0a83411d666','removal of B-11 at shot 23, entered after shot 26','2026-11-28T16:17:29.124486Z');
INSERT INTO "judgings" VALUES(3,1,22,'bdb9a0a83411d666','finding at shot 22, entered after shot 26','2026-11-28T16:17:34.467110Z');
INSERT INTO "judgings" VALUES(4,1,25,'bdb9a0a83411d666','lot at shot 25, entered after shot 26','2026-11-28T16:17:34.965555Z');
INSERT INTO "judgings" VALUES(5,1,26,'bdb9a0a83411d666','lot at shot 26, entered after shot 26','2026-11-28T16:17:35.500343Z');
INSERT INTO "judgings" VALUES(6,1,26,'bdb9a0a83411d666','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:17:35.918644Z');
INSERT INTO "judgings" VALUES(7,1,1,'bdb9a0a83411d666','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:17:36.417623Z');
INSERT INTO "judgings" VALUES(8,1,25,'bdb9a0a83411d666','entry taken back: mistyped, entered after shot 26','2026-11-28T16:17:39.426893Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','eb352ba0b70e56e2d1a22791245f57f7cad1ee99ca82bea65812930f4a463809',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','33533f795d50a28e9a48be6ea902bb3766515335597a6519eacd133998159da8',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','9fae0f4478ae2235fc10c13288f8ed11333fa4b3c10695610288405518874e18',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','d53bf3bfea99c29be85f725f5f3b1709beeca812eea9598d13125f412aea5465',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','1b87a4d5f4d3c8d2bfd46baf11350ab650f0ea927ac4f72167f71c116e73b53a',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','4d3b13ac8c535a4e888f013c5f4df5648db80ac2a83c282cfe7f1c6e67c5d5b5',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','a9fcf61299328582c5c102fec8bfb35df2aa3d202f8c385c06a78198aedc0758',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','f30381c852099a7435ea90837d4c08678ebce1ac991c5fa4a60d0b0c609df9d1',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','16278dc5e733e34f9ddcbb3bfee9c4272bbfd3fa2953ef60dbec9bd5df936414',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','ec81ccb062a11c9d833f96faa1073d5d0a0e2240fd77dc947f7d52dc78defd51',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','2b6a7a8cd5db35c38405cd5989f0e5b0980fd2e00a861649b0c216aec12b219e',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','61641e741eb2de3e010ff7f51b69e25d27c7ea663417bd556d1edfd8dbd5173b',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','148407cd9c4acdc720a27f9aa3d4f09cbcbccd44a15018e305b083aba638562c',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','988a564e65617c25746b4b8f28713847d802bacc7c3dae94290eb56906c000f2',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','5d1608df9a5bcd4be4e47aad377878a3cbd09ca4d5ae1d5f98b516bb78277b26',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','fad0f84a4f4f7436e322f9012b4a996cb9e00616dfc12d2e04eaaa29f468f61b',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','6fdc722fba4aeb18283e0926465907dcc3d392ea7364568e7ef950d74e49ab4c',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','9b3350a0dbe48d8daac6e8c4e8e51afa1a25b2a217bd91f22552c933109b3821',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','bad0564d56cb373ce00427af260b48d3ab6dda0a37b86951caf39999f2885177',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','bbb821facddca55d165957851248d16146aebfad47461baefab37c9dd2d1c5d1',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','677f40d6b42d0e94c638a2b020e862ae187390c23bc0584b47aa6f0072ed96b4',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','10b1ef79669a8dbf38e3a5b00c5776637c2e819f4f4d44e61f48674cc918a7cf',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','cc12f29183355eb7cef639fd09b863f328cbfe3b3713aa1489e2f520e4762643',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','39d3a9e448b50baa06d2aa42f80d8e41ff02be2faa6ad76932f1a7bf7f055af3',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','8160f967f5a838cd96702621cad97d28cdc60de19ef802d3c031a3e9320423ce',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','0c19883dfae015c053cb1f94df41df352c61b12578524bfa06d5936154472738',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','6ba51497ceb1c05ccc23c7afd8d1c826ee402c813286ea8ef69754448725620a',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','ee0e155849304c8a1b9a2d6d7d3e3cf1c26e9964cd60630906b7e281aad975e4',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','4e1c3522bded351e5c581f2c09df9e46a0277f2aac5e31785f5e4760c459d8bb',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','21db73edfdd057344479d906519cbd1f3b1cf1cba1ca9d6a79e93723a1f62efc',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 verdicts:14 signals:3 signals:4 verdicts:15 signals:5 signals:6 verdicts:16 signals:7 signals:8 verdicts:17 signals:9 signals:10 verdicts:18 signals:11 signals:12 verdicts:19 signals:13 signals:14 verdicts:20 signals:15 signals:16 verdicts:21 verdicts:22 verdicts:23 verdicts:24','51bba11d1bb43416e17834092bde4c31ca4e11154b6f3303b2e7262833484aaf',NULL);
INSERT INTO "ledger" VALUES(33,'removals:1 judgings:2 inserts:3 mountings:3','a2ed906f5ac49136e54ecfd500ea3d7ecfa5baa13d0712ae142f2871d403f5a5',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25','e3b9188613c05d3eafa1efc8ede703063d70ee6e3425294eba290462e65051ae',NULL);
INSERT INTO "ledger" VALUES(35,'verdicts:26 verdicts:27 verdicts:28','7807147d58ce9c084df83c1733f597899f9b9a7e4498cff6e5d6a095c22f5c06',NULL);
INSERT INTO "ledger" VALUES(36,'events:1 judgings:3','4167a01e2ce0720a58d48893c2b708476a59e010a4eed37175fa6376c4cbacfa',NULL);
INSERT INTO "ledger" VALUES(37,'signals:17 signals:18 verdicts:29 verdicts:30 verdicts:31 verdicts:32 verdicts:33','bb8c0409b05501af0d091c8758dc5dbdb2bcd8cf69963847762c0ab2e4de0ca9',NULL);
INSERT INTO "ledger" VALUES(38,'events:2 judgings:4','1d96ac8c8261505c79f9c7d717ed4e15d379268b923cf58ea9874638dfeaecb3',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:34 verdicts:35','1790ef746ce26ab66ac2b63fcec551c71aae572b03f182612a38d9d92b0f707d',NULL);
INSERT INTO "ledger" VALUES(40,'events:3 judgings:5','4c0024358614c6964dfb312f0b63679b069c9cbf606df4511b59001ef2836f6b',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:36','ed8abf3ba9b825aacf01621b19e5ff3a92e727c26bdcf565ddddc53f7eba96a7',NULL);
INSERT INTO "ledger" VALUES(42,'removals:2 judgings:6','760dc123956eaafdae1f6433ae7455479deb4c78b65689fd8e23799db51e9684',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:37','e512bd67e170ff8d66c7ee5aa1c771399d6da63200d761b8e803c53a2dd63461',NULL);
INSERT INTO "ledger" VALUES(44,'makings:1 judgings:7','b019539ab74b98610cfa77ecdbf0c1a3223fb05ed6f488ac057fe86f3f57c570',NULL);
INSERT INTO "ledger" VALUES(45,'verdicts:38 verdicts:39 verdicts:40 verdicts:41 verdicts:42 verdicts:43 verdicts:44 verdicts:45 baselines:4 baselines:5 baselines:6 verdicts:46 verdicts:47 verdicts:48 verdicts:49 signals:19 verdicts:50 signals:20 verdicts:51 signals:21 signals:22 verdicts:52 signals:23 signals:24 verdicts:53 signals:25 signals:26 verdicts:54 signals:27 signals:28 verdicts:55 signals:29 signals:30 verdicts:56','0ef5fd2783e658d66abd366ecf561e3ae262c6f5f960cc68edc4a72f7eea7576',NULL);
INSERT INTO "ledger" VALUES(46,'signals:31 signals:32 verdicts:57 verdicts:58 verdicts:59 verdicts:60 verdicts:61','e30297308d247dec62e264858273a1d1b606a9056dade1d7b2b15e89525a1298',NULL);
INSERT INTO "ledger" VALUES(47,'baths:1','93bef4a7e4b28fb0f811f7983293be04e54993afd6f57e19bb3ea94bdff799d8',NULL);
INSERT INTO "ledger" VALUES(48,'soaks:1 soaks:2','6475697a213b36b8009c5eab3fd9a1cc9bc2a5fcba03231440b18eb8d0886db9',NULL);
INSERT INTO "ledger" VALUES(49,'inspections:1','bd6552d03cbfd6dc0fbde0cf8e2a2fedc84687a1c29da8a0a926cb4cf253c358',NULL);
INSERT INTO "ledger" VALUES(50,'inspections:2','7d4551e0d8c098896c5ef7c30fe0c8ad216576673e4236cbb6202de45d0aa6f4',NULL);
INSERT INTO "ledger" VALUES(51,'dispositions:1','bb762ba19e9e296ec73235274bc12f83c7006e4e4460fc3ab0482cd27fa3ea6d',NULL);
INSERT INTO "ledger" VALUES(52,'dispositions:2','217de917c71e3416693b600dd69eb8b91c4b12ef0c7f7f16dbf883f070a79e25',NULL);
INSERT INTO "ledger" VALUES(53,'corrections:1 judgings:8','3611ab37fc2002f4649901dd7f9246bd1c24147cc4b174dd2df46ad741248d7b',NULL);
INSERT INTO "ledger" VALUES(54,'verdicts:62 verdicts:63','57d4115b343eef5c4295e2d95a994dde3d35e08b00aae7d477183e5bb9398d26',NULL);
INSERT INTO "ledger" VALUES(55,'places:1','06c4cc064f976b4c5a38fe3312aa1ff8f81a307f29d378457215a5382ac0798a',NULL);
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
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:17:36.417623Z');
CREATE TABLE matches (
	id INTEGER NOT NULL, 
	weighing_id INTEGER NOT NULL, 
	shot BIGINT, 
	basis TEXT NOT NULL, 
	reason TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, others TEXT, 
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
	time TEXT NOT NULL, initials TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "mountings" VALUES(1,1,1,'moving',0,0,'2026-11-28T16:17:27.819803Z',NULL);
INSERT INTO "mountings" VALUES(2,1,2,'fixed',0,0,'2026-11-28T16:17:27.860868Z',NULL);
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:17:29.124486Z',NULL);
CREATE TABLE pictures (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT, 
	cavity BIGINT, 
	insert_id INTEGER, 
	event_id INTEGER, 
	digest TEXT NOT NULL, 
	media TEXT NOT NULL, 
	bytes BIGINT NOT NULL, 
	remark TEXT NOT NULL, 
	taken TEXT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(event_id) REFERENCES events (id)
);
CREATE TABLE places (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	cavity BIGINT, 
	place TEXT NOT NULL, 
	put TEXT NOT NULL, 
	due TEXT, 
	newest_soak BIGINT NOT NULL, 
	newest_soak_end BIGINT NOT NULL, 
	initials TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "places" VALUES(1,1,5,6,1,'box-3','2026-11-28T16:17:40.279103Z',NULL,2,0,'','2026-11-28T16:17:40.279103Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:17:27.819803Z');
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
	time TEXT NOT NULL, initials TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "removals" VALUES(1,1,1,23,'flash at the gate','2026-11-28T16:17:29.124486Z',NULL);
INSERT INTO "removals" VALUES(2,1,2,26,'gate worn','2026-11-28T16:17:35.918644Z',NULL);
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
INSERT INTO "signals" VALUES(1,1,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(2,1,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(3,1,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(4,1,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(5,1,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(6,1,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(7,1,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(8,1,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(9,1,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(10,1,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(11,1,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(12,1,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(13,1,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(14,1,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(15,1,1,23,'mr','cushion','above',5.10000000000000675015e-01,1.66092916172225768534e-02,0.0,1.54495154468093032207e-01);
INSERT INTO "signals" VALUES(16,1,1,23,'mr','peak_pressure','above',37.5,1.97868936421577434892e+00,0.0,1.8405235214962647916e+01);
INSERT INTO "signals" VALUES(17,3,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(18,3,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(19,7,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(20,7,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(21,7,1,17,'individuals','cushion','below',4.77999999999999936051e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(22,7,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(23,7,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(24,7,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(25,7,1,19,'individuals','cushion','below',4.64999999999999946709e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(26,7,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(27,7,1,20,'individuals','cushion','below',4.56000000000000049737e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(28,7,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(29,7,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(30,7,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(31,7,1,22,'individuals','cushion','below',4.47999999999999953814e+00,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(32,7,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:17:37.270026Z','2026-11-29T16:17:37.270026Z','','2026-11-28T16:17:37.270026Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:17:37.270026Z','2026-11-29T16:17:37.270026Z','','2026-11-28T16:17:37.270026Z');
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
	threshold DOUBLE, facts TEXT, others TEXT, limits TEXT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(judging_id) REFERENCES judgings (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id), 
	UNIQUE (press_id, shot, judging_id)
);
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 4 on it; what could be seen by now: a step of 0.86 mm in cushion, 120 bar in peak pressure or 0.304 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.8567555068164849},{"channel":"peak_pressure","size":119.89970070438673},{"channel":"fill_time","size":0.30362614123229176}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 5 on it; what could be seen by now: a step of 0.48 mm in cushion, 58 bar in peak pressure or 0.154 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.47897028169997913},{"channel":"peak_pressure","size":58.47350452731671},{"channel":"fill_time","size":0.15383608591190312}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 6 on it; what could be seen by now: a step of 0.31 mm in cushion, 42 bar in peak pressure or 0.099 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.3144643039459433},{"channel":"peak_pressure","size":41.698264740550144},{"channel":"fill_time","size":0.09876714588006051}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 7 on it; what could be seen by now: a step of 0.29 mm in cushion, 34 bar in peak pressure or 0.070 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.29202122557968746},{"channel":"peak_pressure","size":33.59427907927261},{"channel":"fill_time","size":0.06969168958413281}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 8 on it; what could be seen by now: a step of 0.22 mm in cushion, 30 bar in peak pressure or 0.052 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.2215112646703656},{"channel":"peak_pressure","size":29.820228478958473},{"channel":"fill_time","size":0.052030914316076676}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 9 on it; what could be seen by now: a step of 0.17 mm in cushion, 24 bar in peak pressure or 0.041 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.16951654471627195},{"channel":"peak_pressure","size":23.783443786327712},{"channel":"fill_time","size":0.040969914434306046}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 10 on it; what could be seen by now: a step of 0.16 mm in cushion, 20 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.15648683443938569},{"channel":"peak_pressure","size":20.449629781658384},{"channel":"fill_time","size":0.03411091880922406}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet, at shot 14 of the press at the earliest; shot 13 on it; what could be seen by now: a step of 0.15 mm in cushion, 18 bar in peak pressure or 0.030 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":14,"visible":[{"channel":"cushion","size":0.15044205910930453},{"channel":"peak_pressure","size":18.36291095905238},{"channel":"fill_time","size":0.029951815246898633}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11, moving half; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11, moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}],"odd_channel":"cushion","odd_by":-4.645556174906327}',NULL,NULL);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'swap','cushion down 0.13 mm and peak pressure down 6.8 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 35 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below','crack or breakage','insert',0.731561430669285,15,13,15,35.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.12993895381323983,"least":0.019516169517501104},{"channel":"peak_pressure","size":-6.765329809650268,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662543303480739,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 8.5 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 34 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',0.731561430669285,15,13,15,34.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15852589003382478,"least":0.019516169517501104},{"channel":"peak_pressure","size":-8.514523800678893,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662518253585762,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 18 shots until parts are bad (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,18,18.0,13.0,24.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.24325036832185803,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108678,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210316105,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 17 shots until parts are bad (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,19,17.0,13.0,23.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192589,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.20729742829381,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896436,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 6 shots until parts are bad (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,20,6.0,4.0,10.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.37219113398647885,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080753,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567935,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 5 shots until parts are bad (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,21,5.0,3.0,9.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272664,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.494584689496538,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008549638086319273,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.83366288852090497663e-01,14,5,22,3.0,2.0,4.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47597085791960925,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125475,"least":2.0005402415750657},{"channel":"fill_time","size":3.86877465560968e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255849,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.53 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 2 shots, at the latest in 3 shots; 43% that the next part is bad; look at the last part and at both halves','mr:cushion:above;mr:peak_pressure:above','unknown','insert',6.83366288852090497663e-01,14,5,23,2.0,0.0,3.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5276019475770479,"least":0.019516169517501104},{"channel":"peak_pressure","size":-32.03308513151212,"least":2.0005402415750657},{"channel":"fill_time","size":4.294989990164108e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.4297533697698535,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'keep','no change seen in these values since shot 23; shot 24 on B-11, moving half; what could be seen by now: a step of 0.22 mm in cushion, 21 bar in peak pressure or 0.026 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-3.44045954995354197336e+00,3.1,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"visible":[{"channel":"cushion","size":0.22018790037078156},{"channel":"peak_pressure","size":21.256087645785783},{"channel":"fill_time","size":0.02639459422725235}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'swap','limit passed: level of the cushion 4.39 mm is below 4.40 mm; no change seen in these values since shot 23; shot 25 on B-11, moving half; what could be seen by now: a step of 0.22 mm in cushion, 21 bar in peak pressure or 0.026 s in fill time; look at the last part','','','',NULL,NULL,NULL,NULL,0.0,0.0,0.0,-3.10044458449034232572e+00,3.1,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"limits":[{"channel":"cushion","limit":4.4,"derived":false,"value":4.388014029439464,"running":0,"level":true}],"visible":[{"channel":"cushion","size":0.22018790037078156},{"channel":"peak_pressure","size":21.256087645785783},{"channel":"fill_time","size":0.02639459422725235}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,'cushion');
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','limit passed: level of the cushion 4.36 mm is below 4.40 mm; no change seen in these values since shot 23; shot 26 on B-11, moving half; what could be seen by now: a step of 0.22 mm in cushion, 21 bar in peak pressure or 0.026 s in fill time; look at the last part','','','',NULL,NULL,NULL,NULL,0.0,0.0,0.0,-3.10044458449034232572e+00,3.1,'{"stage":"quiet","quiet_since":23,"n_sisters":0,"limits":[{"channel":"cushion","limit":4.4,"derived":false,"value":4.3550761512618985,"running":0,"level":true}],"visible":[{"channel":"cushion","size":0.22018790037078156},{"channel":"peak_pressure","size":21.256087645785783},{"channel":"fill_time","size":0.02639459422725235}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,'cushion');
INSERT INTO "verdicts" VALUES(25,2,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515647041e-01,14,5,23,10.0,7.0,15.0,2.20017702066360527619e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101397,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.566363685430243,"least":2.0005402415750657},{"channel":"fill_time","size":3.6656252743536184e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.2161530808920883,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231811916e-01,14,6,24,16.0,12.0,20.0,2.17464198434011599667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873557,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.637526325910235e-07,"least":0.012}],"cause_weight":0.2927511294470245,"rival":"parting-line wear","rival_weight":0.19728678367209396,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743059832918e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.83366288852090497663e-01,14,5,22,3.0,2.0,4.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47597085791960925,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125475,"least":2.0005402415750657},{"channel":"fill_time","size":3.86877465560968e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255849,"found":{"shot":22,"text":"flash","half":"moving","piece":""},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515647041e-01,14,5,23,10.0,7.0,15.0,2.20017702066360527619e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101397,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.566363685430243,"least":2.0005402415750657},{"channel":"fill_time","size":3.6656252743536184e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.2161530808920883,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(31,3,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231811916e-01,14,6,24,16.0,12.0,20.0,2.17464198434011599667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873557,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.637526325910235e-07,"least":0.012}],"cause_weight":0.2927511294470245,"rival":"parting-line wear","rival_weight":0.19728678367209396,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(32,3,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(33,3,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743059832918e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(34,4,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(35,4,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.14012967720955171735e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(36,5,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.65000595950459505445e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231600426},{"channel":"peak_pressure","size":31.395224676719586},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.361160196039381,"log_prior":0.2654811017191876},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(37,6,1,26,'B-12',4,1,'keep','not judged: the press waited before shot 26, and what a wait does is not known yet of such inserts; judged from shot 45 at the latest, if it does not wait again; shot 4 on B-12; what could be seen by now: a step of 0.52 mm in cushion, 42 bar in peak pressure or 0.028 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.50443954122476974966e+00,2.3,'{"stage":"waited","judged_from":45,"waited_at":26,"visible":[{"channel":"cushion","size":0.5192830254694828},{"channel":"peak_pressure","size":42.132931745945086},{"channel":"fill_time","size":0.027961529623892426}],"mould":[{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(38,7,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(39,7,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(40,7,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(41,7,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 4 on it; what could be seen by now: a step of 0.86 mm in cushion, 120 bar in peak pressure or 0.304 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.8567555068164849},{"channel":"peak_pressure","size":119.89970070438673},{"channel":"fill_time","size":0.30362614123229176}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(42,7,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 5 on it; what could be seen by now: a step of 0.48 mm in cushion, 58 bar in peak pressure or 0.154 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.47897028169997913},{"channel":"peak_pressure","size":58.47350452731671},{"channel":"fill_time","size":0.15383608591190312}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(43,7,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 6 on it; what could be seen by now: a step of 0.31 mm in cushion, 42 bar in peak pressure or 0.099 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.3144643039459433},{"channel":"peak_pressure","size":41.698264740550144},{"channel":"fill_time","size":0.09876714588006051}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(44,7,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 7 on it; what could be seen by now: a step of 0.29 mm in cushion, 34 bar in peak pressure or 0.070 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.29202122557968746},{"channel":"peak_pressure","size":33.59427907927261},{"channel":"fill_time","size":0.06969168958413281}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(45,7,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 8 on it; what could be seen by now: a step of 0.22 mm in cushion, 30 bar in peak pressure or 0.052 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.2215112646703656},{"channel":"peak_pressure","size":29.820228478958473},{"channel":"fill_time","size":0.052030914316076676}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(46,7,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 9 on it; what could be seen by now: a step of 0.17 mm in cushion, 24 bar in peak pressure or 0.041 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.16951654471627195},{"channel":"peak_pressure","size":23.783443786327712},{"channel":"fill_time","size":0.040969914434306046}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(47,7,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 10 on it; what could be seen by now: a step of 0.16 mm in cushion, 20 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.15648683443938569},{"channel":"peak_pressure","size":20.449629781658384},{"channel":"fill_time","size":0.03411091880922406}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(48,7,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet, at shot 14 of the press at the earliest; shot 13 on it; what could be seen by now: a step of 0.15 mm in cushion, 18 bar in peak pressure or 0.030 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":14,"visible":[{"channel":"cushion","size":0.15044205910930453},{"channel":"peak_pressure","size":18.36291095905238},{"channel":"fill_time","size":0.029951815246898633}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(49,7,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11, moving half; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(50,7,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11, moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}],"odd_channel":"cushion","odd_by":-4.645556174906327}',NULL,NULL);
INSERT INTO "verdicts" VALUES(51,7,1,16,'B-11',16,0,'swap','cushion down 0.13 mm and peak pressure down 6.8 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 35 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below','crack or breakage','insert',0.731561430669285,15,13,15,35.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.12993895381323983,"least":0.019516169517501104},{"channel":"peak_pressure","size":-6.765329809650268,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662543303480739,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(52,7,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 8.5 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 34 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',0.731561430669285,15,13,15,34.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15852589003382478,"least":0.019516169517501104},{"channel":"peak_pressure","size":-8.514523800678893,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662518253585762,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(53,7,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 18 shots until parts are bad (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,18,18.0,13.0,24.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.24325036832185803,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108678,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210316105,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(54,7,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 17 shots until parts are bad (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777451516e-01,14,13,19,17.0,13.0,23.0,1.25222762168596819516e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192589,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.20729742829381,"least":2.0005402415750657},{"channel":"fill_time","size":4.433494096390017e-06,"least":0.012}],"cause_weight":0.2574454275614312,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896436,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(55,7,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 6 shots until parts are bad (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,20,6.0,4.0,10.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.37219113398647885,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080753,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567935,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(56,7,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 5 shots until parts are bad (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.76938462675494068143e-01,14,10,21,5.0,3.0,9.0,1.8515516538312542849e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272664,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.494584689496538,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606908103e-07,"least":0.012}],"cause_weight":0.30411450834103043,"half":"moving","halves_alike":"A-07","bad_chance":0.008549638086319273,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(57,7,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.83366288852090497663e-01,14,5,22,3.0,2.0,4.0,2.21702103414882714096e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.47597085791960925,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125475,"least":2.0005402415750657},{"channel":"fill_time","size":3.86877465560968e-07,"least":0.012}],"cause_weight":0.289482941930418,"rival":"parting-line wear","rival_weight":0.21989388075096733,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255849,"found":{"shot":22,"text":"flash","half":"moving","piece":""},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(58,7,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515647041e-01,14,5,23,10.0,7.0,15.0,2.20017702066360527619e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101397,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.566363685430243,"least":2.0005402415750657},{"channel":"fill_time","size":3.6656252743536184e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.2161530808920883,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(59,7,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231811916e-01,14,6,24,16.0,12.0,20.0,2.17464198434011599667e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873557,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.637526325910235e-07,"least":0.012}],"cause_weight":0.2927511294470245,"rival":"parting-line wear","rival_weight":0.19728678367209396,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(60,7,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(61,7,1,26,'B-12',4,1,'keep','not judged: the press waited before shot 26, and what a wait does is not known yet of such inserts; judged from shot 45 at the latest, if it does not wait again; shot 4 on B-12; what could be seen by now: a step of 0.52 mm in cushion, 42 bar in peak pressure or 0.028 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.50443954122476974966e+00,2.3,'{"stage":"waited","judged_from":45,"waited_at":26,"visible":[{"channel":"cushion","size":0.5192830254694828},{"channel":"peak_pressure","size":42.132931745945086},{"channel":"fill_time","size":0.027961529623892426}],"mould":[{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(62,8,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592596736618e-01,14,6,25,17.0,14.0,22.0,2.15123803390525765162e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250748,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625089,"least":2.0005402415750657},{"channel":"fill_time","size":3.063960729881549e-07,"least":0.012}],"cause_weight":0.2942186507662857,"rival":"parting-line wear","rival_weight":0.181877934175446,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(63,8,1,26,'B-12',4,1,'keep','not judged: the press waited before shot 26, and what a wait does is not known yet of such inserts; judged from shot 45 at the latest, if it does not wait again; shot 4 on B-12; what could be seen by now: a step of 0.52 mm in cushion, 42 bar in peak pressure or 0.028 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,7.23751124321259098337e-01,2.3,'{"stage":"waited","judged_from":45,"waited_at":26,"visible":[{"channel":"cushion","size":0.5192830254694828},{"channel":"peak_pressure","size":42.132931745945086},{"channel":"fill_time","size":0.027961529623892426}],"mould":[{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
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
CREATE INDEX shots_by_trial ON shots (trial_id, press_id, shot);
CREATE INDEX verdicts_called ON verdicts (press_id, shot, onset_low, onset) WHERE verdict != 'keep';
CREATE INDEX places_by_press ON places (press_id, id);
CREATE INDEX pictures_by_press ON pictures (press_id, shot);
COMMIT;
