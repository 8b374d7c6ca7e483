-- schema 0002: 52 transactions, last digest 1613bc37a742c2d02ae4b1893559d1bea1fa9470e436966b73f94de415c6c8ca
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0002');
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
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T16:12:11.799801Z','','2026-11-28T16:12:11.799801Z');
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
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T16:12:14.123025Z');
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T16:11:58.815199Z');
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
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T16:12:13.269919Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','','2026-11-28T16:12:13.745215Z');
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
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T16:12:08.097173Z');
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T16:12:08.230216Z');
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T16:12:08.730078Z');
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T16:11:58.815199Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T16:11:59.105099Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T16:12:07.509498Z');
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
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T16:12:12.450435Z','','2026-11-28T16:12:12.450435Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T16:12:12.722612Z','','2026-11-28T16:12:12.722612Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'85b9ab67571230d7','first judging','2026-01-05T06:00:00.000000Z');
INSERT INTO "judgings" VALUES(2,1,23,'85b9ab67571230d7','mounting of B-12 in moving at shot 23, entered after shot 26','2026-11-28T16:12:07.509498Z');
INSERT INTO "judgings" VALUES(3,1,25,'85b9ab67571230d7','lot at shot 25, entered after shot 26','2026-11-28T16:12:08.230216Z');
INSERT INTO "judgings" VALUES(4,1,26,'85b9ab67571230d7','lot at shot 26, entered after shot 26','2026-11-28T16:12:08.730078Z');
INSERT INTO "judgings" VALUES(5,1,26,'85b9ab67571230d7','removal of A-07 at shot 26, entered after shot 26','2026-11-28T16:12:10.071491Z');
INSERT INTO "judgings" VALUES(6,1,1,'85b9ab67571230d7','making of B-11 said otherwise, entered after shot 26','2026-11-28T16:12:10.669931Z');
INSERT INTO "judgings" VALUES(7,1,25,'85b9ab67571230d7','entry taken back: mistyped, entered after shot 26','2026-11-28T16:12:14.123025Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'trials:1','a1f7c375cd890f4ec48ad914fdc0aab3ffffa38c831a6a0d20f6469a2b4f3fee',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','a0f4240c9d9095f46ef553710cfc18ca3f99c5d9848b9abcf2e08a9207c66af4',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','88deab3d8b9ac5d1a3e38eed98638fd5c1297ede2487310b8832eb63febee51f',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','dbf9087e54c4c565bb7e435820b9c96b311f2dc89e55abf3112d9aaaf6860b89',NULL);
INSERT INTO "ledger" VALUES(5,'shots:2','edeae4eb1092e00c66f4ab805ab153ee77f1c15d71fe497572488883c96f7d9a',NULL);
INSERT INTO "ledger" VALUES(6,'shots:3','665e24d0649c8109cf20bae20e84934707cffac134acadc041887f48d9b7a974',NULL);
INSERT INTO "ledger" VALUES(7,'shots:4','626da63e5f00536052ee3bd774ed41e99637ac2f2058f8cf5aa3a61e02e8a645',NULL);
INSERT INTO "ledger" VALUES(8,'shots:5','c47726d39b275ea91388dbd9dd59bed6ffe1dbd76eb7fe843185d561f2bc1228',NULL);
INSERT INTO "ledger" VALUES(9,'shots:6','5b545fbbc0ce2ef0a8dcf0016947e97c0a7ccacc3d9d62e5a48f3165844d5540',NULL);
INSERT INTO "ledger" VALUES(10,'shots:7','822f07202c95e56adca13381eb44f2f2357f19302439ecd9c5856961dcb660dc',NULL);
INSERT INTO "ledger" VALUES(11,'faults:1','21af56740b6572d514fd45ead9562a40825136a598c719bb8a8142c4521d8f7e',NULL);
INSERT INTO "ledger" VALUES(12,'shots:8','02c0b2deabf68695ad1a260b87320969fc2ac89673d37b7dc60cfe2f010fdb0f',NULL);
INSERT INTO "ledger" VALUES(13,'shots:9','4aa7146094ed8a85bb2db1288c5d3cdc5e3117a4af98a44eba67641d518200eb',NULL);
INSERT INTO "ledger" VALUES(14,'shots:10','48e66fc2833b55ebe0343cf7b8eafb7dccd2c3607c69546e0cbeacc69b13e7f0',NULL);
INSERT INTO "ledger" VALUES(15,'gaps:1','2f04affc7519c8ae64d7bd83cc8fd4bb9dd7a2fedaaff8246c7cce75f2df8722',NULL);
INSERT INTO "ledger" VALUES(16,'shots:11','6571fec509837f15bea8b2214050f59bc852d9c4c6239b95145cf9c0de7591f7',NULL);
INSERT INTO "ledger" VALUES(17,'shots:12','26b12b89335b7095fc2eeaa40abf18ad18b3566993f5c9c6ff8a9810a54b1f83',NULL);
INSERT INTO "ledger" VALUES(18,'shots:13','ce47c2560d714c5d132c4f25f8a2a7dfc88abbe848a0b82b13d095ba195948b1',NULL);
INSERT INTO "ledger" VALUES(19,'shots:14','a56301dff97b385f6ab67e6e95f22740a5beecd82a79a2929390d71deae1738e',NULL);
INSERT INTO "ledger" VALUES(20,'shots:15','0023fa923ae973532725ee15d6fb9ed8ffb6574c1963a45db5b3d83fad89ae71',NULL);
INSERT INTO "ledger" VALUES(21,'shots:16','207150fe462cd9756ecde867ccdf1f289f2f7e0041d0358e46a8f9197ac82007',NULL);
INSERT INTO "ledger" VALUES(22,'shots:17','ce7ce12a94452260cefe3ad5d0ee5196f110fd77fffcbf2150ee62b1b0940fa0',NULL);
INSERT INTO "ledger" VALUES(23,'shots:18','e621f5c1515fb166e87e02be4f765e8d09beb6e6d2d3ff8065c7e81c80df3eeb',NULL);
INSERT INTO "ledger" VALUES(24,'shots:19','4b34660355337e989f81bed79f3d2dbea99eb4dcc755beafc56d44f55f973fda',NULL);
INSERT INTO "ledger" VALUES(25,'shots:20','990ba7c05aa8cfd756663963395b7e1ca93561172534645c0cf0f52f4276a1c2',NULL);
INSERT INTO "ledger" VALUES(26,'shots:21','3c08c0953b98b63e22202787e190b07a69c28c5bf64d75995d8c657b9a70143d',NULL);
INSERT INTO "ledger" VALUES(27,'shots:22','2cc5d17d5fd5d8f0deba3e5594c9c946dd27aa8c3350a9239b5592b123c69e9c',NULL);
INSERT INTO "ledger" VALUES(28,'shots:23','f86beec078610f730fc2ab0f844b95555446af5014ea2265c6f1f3caf0086ef2',NULL);
INSERT INTO "ledger" VALUES(29,'shots:24','334c4915810bff4e5bd9f44c3c73c0c48656bd025eaa11bd8e267203dfdefffa',NULL);
INSERT INTO "ledger" VALUES(30,'links:1','73bc55d35a7018b5e0b0b65f55052adc98d5935d3e06c428b74075cee83a36e6',NULL);
INSERT INTO "ledger" VALUES(31,'weighings:1','56c6c84f883a47560e187ff356b110af74571f23d3ed54148f439892d688d1a9',NULL);
INSERT INTO "ledger" VALUES(32,'judgings:1 verdicts:1 verdicts:2 verdicts:3 verdicts:4 verdicts:5 verdicts:6 verdicts:7 verdicts:8 baselines:1 baselines:2 baselines:3 verdicts:9 verdicts:10 verdicts:11 verdicts:12 signals:1 verdicts:13 signals:2 signals:3 verdicts:14 signals:4 signals:5 verdicts:15 signals:6 signals:7 verdicts:16 signals:8 signals:9 verdicts:17 signals:10 signals:11 verdicts:18 signals:12 signals:13 verdicts:19 signals:14 signals:15 verdicts:20 signals:16 signals:17 verdicts:21 verdicts:22 verdicts:23 verdicts:24','8cbafc23dd0446966fe6082f330f7c2e1607a2fb6f7e4f897920689dcd1cc7c5',NULL);
INSERT INTO "ledger" VALUES(33,'inserts:3 mountings:3 judgings:2','00e5b74128ce58564f2502aed5f1237fac4b322575fd68de089742a3857835c1',NULL);
INSERT INTO "ledger" VALUES(34,'verdicts:25 verdicts:26 verdicts:27 verdicts:28','83c103c4aadebcf3286923f77281ad30b3598b64fddff8e5918334aa08af0c8b',NULL);
INSERT INTO "ledger" VALUES(35,'events:1','1de932579527a595712ec63f80c2da44975ca5922c735eade5effb73d37b2996',NULL);
INSERT INTO "ledger" VALUES(36,'events:2 judgings:3','f3bc00f8266ad0b1fabaaf5bbebca5e00907226cfcdf3dbff87026f21c353bcd',NULL);
INSERT INTO "ledger" VALUES(37,'verdicts:29 verdicts:30','c0d9ff888cf68454393529218ba3b43e0f149bea15866df492ec13da9529f665',NULL);
INSERT INTO "ledger" VALUES(38,'events:3 judgings:4','e4ff72bc74b8cf773169d3a3a8c157edeebd5b3a25680fd486dbdd662456f459',NULL);
INSERT INTO "ledger" VALUES(39,'verdicts:31','2dcb21dd89d1ddc0d0b6d00a41aebfaab0c6f10f2373da06ec5f0b1bf111eba1',NULL);
INSERT INTO "ledger" VALUES(40,'removals:1 judgings:5','52136f64c70f0a0606f120e5f80e4ed0ccdd4968bf4963cbed788becad58c9e1',NULL);
INSERT INTO "ledger" VALUES(41,'verdicts:32','1f8f51bd17b12645c1ccdf24a1ec1eddc38e30f6f2996be8d0910e52251f96fa',NULL);
INSERT INTO "ledger" VALUES(42,'makings:1 judgings:6','1dfb25d300078e2e8a2812cc8b1576eb42e40d80ed8b0e7d115fe1255d6b9c93',NULL);
INSERT INTO "ledger" VALUES(43,'verdicts:33 verdicts:34 verdicts:35 verdicts:36 verdicts:37 verdicts:38 verdicts:39 verdicts:40 baselines:4 baselines:5 baselines:6 verdicts:41 verdicts:42 verdicts:43 verdicts:44 signals:18 verdicts:45 signals:19 signals:20 verdicts:46 signals:21 signals:22 verdicts:47 signals:23 signals:24 verdicts:48 signals:25 signals:26 verdicts:49','c33e9dfab0b5c67b1af6eea10d5494ce8d60aa171078f46d99ffaa1cd038abaa',NULL);
INSERT INTO "ledger" VALUES(44,'signals:27 signals:28 verdicts:50 signals:29 signals:30 verdicts:51 signals:31 signals:32 verdicts:52 verdicts:53 verdicts:54 verdicts:55 verdicts:56','d1e6d84f1529ccd3f592242def6a39dda427acc38d9d875e1eb0cbf23f69052a',NULL);
INSERT INTO "ledger" VALUES(45,'baths:1','981f80c4d09881b53f7ab86d9ed77cf00345b2644775e1e351d34d3304597b6d',NULL);
INSERT INTO "ledger" VALUES(46,'soaks:1 soaks:2','0a7457553d0ca47af7be1c722714d42c9c8c4280e0652d4a02ab21b9cab7dfbf',NULL);
INSERT INTO "ledger" VALUES(47,'inspections:1','da2c17f2d1362a888bb176a046a3feb75e58465ccea212fae65b21a07204d5ca',NULL);
INSERT INTO "ledger" VALUES(48,'inspections:2','c3ee7b62237631b235fac8c039ef7fae0fc8a1562d9a3840ff4bcfc2ad3fb319',NULL);
INSERT INTO "ledger" VALUES(49,'dispositions:1','ec63598b6f0c708398ae6d20d6a9d5ca5281df24a557747be80bfc9c99f8e0de',NULL);
INSERT INTO "ledger" VALUES(50,'dispositions:2','b603cfff699988c258ea68cf472f54e5875c56987daffc6d2537b1e7631cceea',NULL);
INSERT INTO "ledger" VALUES(51,'corrections:1 judgings:7','13dde2d58248f9efcb97e35ef88524eed8c995f53d21a0997536368db8633345',NULL);
INSERT INTO "ledger" VALUES(52,'verdicts:57 verdicts:58','1613bc37a742c2d02ae4b1893559d1bea1fa9470e436966b73f94de415c6c8ca',NULL);
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
INSERT INTO "makings" VALUES(1,1,'cap-r2','PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T16:12:10.669931Z');
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
INSERT INTO "mountings" VALUES(1,1,1,'moving',1,0,'2026-11-28T16:11:58.815199Z');
INSERT INTO "mountings" VALUES(2,1,2,'fixed',1,0,'2026-11-28T16:11:59.105099Z');
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T16:12:07.509498Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T16:11:58.815199Z');
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
INSERT INTO "removals" VALUES(1,1,2,26,'gate worn','2026-11-28T16:12:10.071491Z');
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T16:12:12.026742Z','2026-11-29T16:12:12.026742Z','','2026-11-28T16:12:12.026742Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T16:12:12.026742Z','2026-11-29T16:12:12.026742Z','','2026-11-28T16:12:12.026742Z');
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
INSERT INTO "verdicts" VALUES(1,1,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(2,1,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(3,1,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(4,1,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(5,1,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(6,1,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(7,1,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(8,1,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(9,1,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(10,1,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(11,1,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(12,1,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(13,1,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(14,1,1,16,'B-11',16,0,'watch','cushion down 0.13 mm and peak pressure down 5.1 bar since shot 15 (13 to 16): most likely the insert (0.79), crack or breakage; about 12 shots left (9 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,16,12.0,9.0,17.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(15,1,1,17,'B-11',17,0,'watch','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 17): most likely the insert (0.79), crack or breakage; about 11 shots left (8 to 15); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,17,11.0,8.0,15.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.25 mm and peak pressure down 9.1 bar since shot 14 (10 to 18): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; about 1 shot left (1 to 1); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,18,1.0,1.0,1.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 11 bar since shot 14 (10 to 19): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; no good shot left; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,19,0.0,0.0,0.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.42 mm and peak pressure down 14 bar since shot 14 (4 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,20,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.47 mm and peak pressure down 16 bar since shot 14 (4 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,21,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.57 mm and peak pressure down 19 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0);
INSERT INTO "verdicts" VALUES(21,1,1,23,'B-11',23,0,'swap','cushion down 0.63 mm and peak pressure down 21 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','mr:cushion:above;mr:peak_pressure:above','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0);
INSERT INTO "verdicts" VALUES(22,1,1,24,'B-11',24,0,'swap','cushion down 0.20 mm and peak pressure down 9.4 bar since shot 16 (15 to 24): most likely the insert (0.82), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.18600026966814220408e-01,16,15,24,NULL,256.0,NULL,1.49459544608261190039e+01,2.0);
INSERT INTO "verdicts" VALUES(23,1,1,25,'B-11',25,0,'swap','cushion down 0.20 mm and peak pressure down 9.5 bar since shot 16 (15 to 25): most likely the insert (0.82), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.18600026966814220408e-01,16,15,25,NULL,254.0,NULL,1.49459544608261190039e+01,2.0);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-11',26,0,'swap','cushion down 0.22 mm and peak pressure down 10 bar since shot 16 (15 to 26): most likely the insert (0.83), crack or breakage; no end in sight; stop and look at both halves for missing pieces','','crack or breakage','insert',8.26529048984637415564e-01,16,15,26,NULL,NULL,NULL,1.65640082628838101186e+01,2.0);
INSERT INTO "verdicts" VALUES(25,2,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(29,3,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(31,4,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(32,5,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(33,6,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(34,6,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(35,6,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(36,6,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(37,6,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet; shot 5 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(38,6,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet; shot 6 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(39,6,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet; shot 7 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(40,6,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet; shot 8 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(41,6,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet; shot 9 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(42,6,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet; shot 10 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(43,6,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet; shot 13 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(44,6,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11; first insert of its design, so less sharp','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(45,6,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11; shot 15 was odd, look at that part and watch the next shot; first insert of its design, so less sharp','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.64581632355084983565e+00,2.0);
INSERT INTO "verdicts" VALUES(46,6,1,16,'B-11',16,0,'watch','cushion down 0.13 mm and peak pressure down 5.1 bar since shot 15 (13 to 16): most likely the insert (0.79), crack or breakage; about 12 shots left (9 to 17); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,16,12.0,9.0,17.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(47,6,1,17,'B-11',17,0,'watch','cushion down 0.16 mm and peak pressure down 5.8 bar since shot 15 (13 to 17): most likely the insert (0.79), crack or breakage; about 11 shots left (8 to 15); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',7.94386801172633494338e-01,15,13,17,11.0,8.0,15.0,5.49807360984171911155e+00,2.0);
INSERT INTO "verdicts" VALUES(48,6,1,18,'B-11',18,0,'swap','cushion down 0.25 mm and peak pressure down 9.1 bar since shot 14 (10 to 18): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; about 1 shot left (1 to 1); stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,18,1.0,1.0,1.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(49,6,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 11 bar since shot 14 (10 to 19): most likely the insert (0.81), cannot be told apart: crack or breakage or parting-line wear; no good shot left; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',8.14519103339273353725e-01,14,10,19,0.0,0.0,0.0,1.16636749341061509712e+01,2.0);
INSERT INTO "verdicts" VALUES(50,6,1,20,'B-11',20,0,'swap','cushion down 0.42 mm and peak pressure down 14 bar since shot 14 (4 to 20): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,20,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(51,6,1,21,'B-11',21,0,'swap','cushion down 0.47 mm and peak pressure down 16 bar since shot 14 (4 to 21): most likely the insert (0.83), cannot be told apart: parting-line wear or softening or creep; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.29747147237246185369e-01,14,4,21,0.0,0.0,0.0,1.6953955855033665756e+01,2.0);
INSERT INTO "verdicts" VALUES(52,6,1,22,'B-11',22,0,'swap','cushion down 0.57 mm and peak pressure down 19 bar since shot 13 (4 to 15): most likely the insert (0.85), parting-line wear; no good shot left; look for flash on both halves, then read the clamp force','individuals:cushion:below;individuals:peak_pressure:below','parting-line wear','insert',8.51297987570908132326e-01,13,4,15,0.0,0.0,0.0,2.0409617343851145677e+01,2.0);
INSERT INTO "verdicts" VALUES(53,6,1,23,'B-12',1,1,'keep','settling: shot 1 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(54,6,1,24,'B-12',2,1,'keep','settling: shot 2 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(55,6,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(56,6,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(57,7,1,25,'B-12',3,1,'keep','settling: shot 3 on B-12, not judged before shot 26 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "verdicts" VALUES(58,7,1,26,'B-12',4,0,'keep','not judged: the level of B-12 is not known yet; shot 4 on it','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
COMMIT;
