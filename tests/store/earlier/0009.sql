-- schema 0009: 75 transactions, last digest ae3ca681e9c3343c00a6e8d3245cecbd0b31fadb7339c754830813736005e7bc
BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0009');
CREATE TABLE anchors (
	id INTEGER NOT NULL, 
	place TEXT NOT NULL, 
	links BIGINT NOT NULL, 
	digest TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
CREATE TABLE archives (
	id INTEGER NOT NULL, 
	trial_id INTEGER NOT NULL, 
	file TEXT NOT NULL, 
	file_digest TEXT NOT NULL, 
	first_link BIGINT NOT NULL, 
	last_link BIGINT NOT NULL, 
	links BIGINT NOT NULL, 
	rows BIGINT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	FOREIGN KEY(trial_id) REFERENCES trials (id)
);
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
INSERT INTO "baselines" VALUES(4,5,1,'B-11','cushion',4,9,6,5.00166666666666603902e+00,1.47196014438794302997e-02,4.88366904335767770817e+00,5.11966428997565436986e+00,10);
INSERT INTO "baselines" VALUES(5,5,1,'B-11','peak_pressure',4,9,6,521.75,1.75356779167501830585e+00,5.07692769407327830315e+02,5.35807230592672226535e+02,10);
INSERT INTO "baselines" VALUES(6,5,1,'B-11','fill_time',4,9,6,0.41,0.0016,3.97173824100184091889e-01,4.2282617589981585926e-01,10);
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
INSERT INTO "baths" VALUES(1,'north',NULL,NULL,NULL,NULL,'2026-11-28T18:32:49.834507Z','','2026-11-28T18:32:49.834507Z');
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
CREATE TABLE clock_steps (
	id INTEGER NOT NULL, 
	step_s DOUBLE NOT NULL, 
	detail TEXT NOT NULL, 
	time TEXT NOT NULL, 
	at_least BOOLEAN NOT NULL, 
	newest_shot BIGINT NOT NULL, 
	newest_weighing BIGINT NOT NULL, 
	newest_link BIGINT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "clock_steps" VALUES(1,-3600.0,'clock set back','2026-01-05T06:27:00.000000Z',0,24,0,1);
CREATE TABLE corrections (
	id INTEGER NOT NULL, 
	entry TEXT NOT NULL, 
	entry_id BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, initials TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (entry, entry_id)
);
INSERT INTO "corrections" VALUES(1,'events',2,'mistyped','2026-11-28T18:32:52.747486Z',NULL);
CREATE TABLE designs (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	resin_family TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (name)
);
INSERT INTO "designs" VALUES(1,'cap-r2','','2026-11-28T18:32:40.916529Z');
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
INSERT INTO "dispositions" VALUES(1,1,22,22,1,'scrapped','flash','','2026-11-28T18:32:51.730065Z');
INSERT INTO "dispositions" VALUES(2,1,19,19,1,'released','looked at','QA','2026-11-28T18:32:52.292553Z');
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
INSERT INTO "events" VALUES(1,1,22,'finding','flash','2026-11-28T18:32:42.353203Z','moving',NULL);
INSERT INTO "events" VALUES(2,1,25,'lot','L2','2026-11-28T18:32:43.941500Z',NULL,NULL);
INSERT INTO "events" VALUES(3,1,26,'lot','L3','2026-11-28T18:32:45.414258Z',NULL,'KB');
CREATE TABLE faults (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	shot BIGINT, 
	kind TEXT NOT NULL, 
	detail TEXT NOT NULL, 
	raw BLOB NOT NULL, 
	time TEXT NOT NULL, more BIGINT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "faults" VALUES(1,1,NULL,'torn','values changed while they were read',X'0102','2026-01-05T06:08:00.000000Z',3);
CREATE TABLE gaps (
	id INTEGER NOT NULL, 
	press_id INTEGER NOT NULL, 
	first BIGINT NOT NULL, 
	last BIGINT NOT NULL, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, least BIGINT, most BIGINT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "gaps" VALUES(1,1,11,12,'counter went on from 10 to 13','2026-01-05T06:11:00.000000Z',1,2);
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
INSERT INTO "inserts" VALUES(1,'B-11',1,'','2026-11-28T18:32:40.916529Z');
INSERT INTO "inserts" VALUES(2,'A-07',1,'','2026-11-28T18:32:40.924150Z');
INSERT INTO "inserts" VALUES(3,'B-12',1,'','2026-11-28T18:32:41.531368Z');
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
INSERT INTO "inspections" VALUES(1,1,4,1,'wall',1.21,1.1,1.3,'mm','1.21 mm','','','','2026-11-28T18:32:50.774921Z','','2026-11-28T18:32:50.774921Z');
INSERT INTO "inspections" VALUES(2,1,21,1,'look',NULL,NULL,NULL,'','','flash','','','2026-11-28T18:32:51.226273Z','MR','2026-11-28T18:32:51.226273Z');
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
INSERT INTO "judgings" VALUES(1,1,0,'7659284685c39029','first judging','2026-11-28T18:32:40.938030Z');
INSERT INTO "judgings" VALUES(2,1,22,'7659284685c39029','finding at shot 22, entered after shot 26','2026-11-28T18:32:42.353203Z');
INSERT INTO "judgings" VALUES(3,1,25,'7659284685c39029','lot at shot 25, entered after shot 26','2026-11-28T18:32:43.941500Z');
INSERT INTO "judgings" VALUES(4,1,26,'7659284685c39029','lot at shot 26, entered after shot 26','2026-11-28T18:32:45.414258Z');
INSERT INTO "judgings" VALUES(5,1,1,'7659284685c39029','making of B-11 said otherwise, entered after shot 26','2026-11-28T18:32:48.373528Z');
INSERT INTO "judgings" VALUES(6,1,25,'7659284685c39029','entry taken back: mistyped, entered after shot 26','2026-11-28T18:32:52.747486Z');
CREATE TABLE ledger (
	id INTEGER NOT NULL, 
	rows TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	origin TEXT, 
	PRIMARY KEY (id), 
	UNIQUE (origin)
);
INSERT INTO "ledger" VALUES(1,'starts:1 logs:1','98d6c42419bc0d14d4c418f506bc3442835ed22310cdedd28eb324c15a27fa93',NULL);
INSERT INTO "ledger" VALUES(2,'presses:1 designs:1 inserts:1 mountings:1','c6ff98364bd2784762938d0f1ad1c8fddf85b36691bea0a68fe8eab880cd47ad',NULL);
INSERT INTO "ledger" VALUES(3,'inserts:2 mountings:2','f6fd61e0fe648af6a98548df72e5adcfc647018a0132dc5eb4755fbbc0ce2650',NULL);
INSERT INTO "ledger" VALUES(4,'shots:1','a5f5ff29a28662f5328e7b965e1335111c108c2d29e05b616fb8e1ee70ab4321',NULL);
INSERT INTO "ledger" VALUES(5,'judgings:1 verdicts:1','58ed66038f991e4c522b67ad8be382e7c1e78a199cc7f126c56f918298ccd671',NULL);
INSERT INTO "ledger" VALUES(6,'shots:2','7f634b3b762555e8645e6e39acee5a3da2bd3c98997486c1e8d74f4e28c5d830',NULL);
INSERT INTO "ledger" VALUES(7,'verdicts:2','eeef6734553fe1adbc416d49d69441e944e47e00d7017de16a7d181045e57115',NULL);
INSERT INTO "ledger" VALUES(8,'shots:3','4a0f43e375e1eb55946705c0b66fa6b6b19da415f9fb9b3a0d1a323ebe0014f3',NULL);
INSERT INTO "ledger" VALUES(9,'verdicts:3','c0c5a2efe349b17a329250cddc7217d480a8ad5627386e8e4617288c9a003533',NULL);
INSERT INTO "ledger" VALUES(10,'shots:4','54a34edbe0068377a913dcbea9f2a10367c0fc6fe28c6fa72daf54c8b032833b',NULL);
INSERT INTO "ledger" VALUES(11,'verdicts:4','11fb3a84b53dd2d36bc60321ffa5551fe54c43be340a9ca02969e7cc47ebf8a1',NULL);
INSERT INTO "ledger" VALUES(12,'shots:5','3522a5116759db428490dc07710b2c220884a85b3111311361a8d78802f62afc',NULL);
INSERT INTO "ledger" VALUES(13,'verdicts:5','7f5ab6dc83951c7dd5f284535a5b3a421ef1b9158ce9c4c827c41e299569c14c',NULL);
INSERT INTO "ledger" VALUES(14,'shots:6','f3399cb701294ed88ed9a29730e3854208e321369126e53bc30d7b5f2c77ba9f',NULL);
INSERT INTO "ledger" VALUES(15,'verdicts:6','2987b4ea5645615c5f5b3c8be0914a2a224c3367bfb0bd764007f65f7512544c',NULL);
INSERT INTO "ledger" VALUES(16,'shots:7','3736b60c32e5ed23cbe192fea1d0aa8c72f88b69869926692f3e6438c137d5e6',NULL);
INSERT INTO "ledger" VALUES(17,'verdicts:7','9b1606c26ac03c272f17c8a69f2400fa8b7209e109cbc312ac7d57f8308c43f2',NULL);
INSERT INTO "ledger" VALUES(18,'faults:1','9407816e378541c9c594b870c17547bf9fc27dc7ce0b8b748fcc1b4a308d172a',NULL);
INSERT INTO "ledger" VALUES(19,'shots:8','dd5d9399734788e2a7c59e4ca7f1269ecb1ecc7be6dad59fb3e83d775ba6baca',NULL);
INSERT INTO "ledger" VALUES(20,'verdicts:8','799bda1a2fec2769b3def6ae86b4e9f3b395a71faeb80f9eb6cb77d3f02edd41',NULL);
INSERT INTO "ledger" VALUES(21,'shots:9','9f087fae375c55671888df6e8ed63951a6b1897540597f9218fd944589901d1b',NULL);
INSERT INTO "ledger" VALUES(22,'baselines:1 baselines:2 baselines:3 verdicts:9','bae6d023e342b332f0237aaf1a9c8f343fd3ca4e78a024d13367714cb7153be4',NULL);
INSERT INTO "ledger" VALUES(23,'shots:10','ff1ef1eac98b2cc8dc0111a38af0e0748d024876e9e80ad99f25ed3f5bee4226',NULL);
INSERT INTO "ledger" VALUES(24,'verdicts:10','13d25cb561abd49845bcf03690dea1f564b5992cd6618b12a0d3f210a82751d4',NULL);
INSERT INTO "ledger" VALUES(25,'gaps:1','b76c2af6c6db8afffbacbcfa0c97972758de2ac58b51609882ede4c9d7392acc',NULL);
INSERT INTO "ledger" VALUES(26,'shots:11','5938fbac91a0d9ca248cc350b8ec94f2cea308d47bc0add109039d6f4f7f248d',NULL);
INSERT INTO "ledger" VALUES(27,'verdicts:11','03360c17b006f962c943bbc6eacd96ad0242165fb665c6e2397efc14e7afa0a2',NULL);
INSERT INTO "ledger" VALUES(28,'shots:12','be821a23916b7721f9533ff6472d955e56b1e69d57de6429bc7eabfff7a24aa2',NULL);
INSERT INTO "ledger" VALUES(29,'verdicts:12','e2df7bac19d2d3e8ea36e04d4bc359a9b95f5c97fbc5e1faf4e0d7a4744feec9',NULL);
INSERT INTO "ledger" VALUES(30,'shots:13','b707308ab89c11fba6018f6c243a3e59d90ac01369705eb13ae5328b5d71c634',NULL);
INSERT INTO "ledger" VALUES(31,'signals:1 verdicts:13','ce22b27b4a93568e28c37ceee8ac488d9ac8d08daa2f912de63c2ea56864d2d3',NULL);
INSERT INTO "ledger" VALUES(32,'shots:14','533623ddd223eac0156de9bee630d77c8f04b3b4ebe30dc6ccba32e1468a9022',NULL);
INSERT INTO "ledger" VALUES(33,'signals:2 verdicts:14','d6407091a5b1b485fc4645158eeade95f59ac3e11838a06f4e6542db2a9a4996',NULL);
INSERT INTO "ledger" VALUES(34,'shots:15','05b19cda55c929d15ecc8768c49aed9486552d0d5668a4b54e4d4874acd7b663',NULL);
INSERT INTO "ledger" VALUES(35,'signals:3 signals:4 verdicts:15','31c94e1aaae5fa6fd4e2e351a5d1ffa93109e63a4bc46ba91424f1240aa45cd4',NULL);
INSERT INTO "ledger" VALUES(36,'shots:16','19f1113d7a6814cc4e1cf2e046b048bcd7313c71d9929f2db5247d5a1388695d',NULL);
INSERT INTO "ledger" VALUES(37,'signals:5 signals:6 verdicts:16','cd1f0f16592830b1aecd5c3c85d8e695ed0742111ef97d022fa8a17c5f9d4a6d',NULL);
INSERT INTO "ledger" VALUES(38,'shots:17','c83ff205f21e56932d396894ba41f2b86369814337f531c7b539dbc6dc30b020',NULL);
INSERT INTO "ledger" VALUES(39,'signals:7 signals:8 verdicts:17','222340daf2862f06ff9e139a383bfe8091d441c268516b3918176cc44944c3e4',NULL);
INSERT INTO "ledger" VALUES(40,'shots:18','a3954889665cc957cbd1b6e77c89253c4831e4b61633b35f4e9b1134de9cb90a',NULL);
INSERT INTO "ledger" VALUES(41,'signals:9 signals:10 verdicts:18','c9c2aab3dd65b8e9a244f5cc01c15a37ad1d10ca48d11b333836e8d2f2d3d468',NULL);
INSERT INTO "ledger" VALUES(42,'shots:19','ae615222515647900f87053768a570e5d4e1f24c5c082fd6148d96f69616200b',NULL);
INSERT INTO "ledger" VALUES(43,'signals:11 signals:12 verdicts:19','f9e6da58e13183264a2d36fd9bd860ff102c19cb5a3d72a32680c2cc0c41ce67',NULL);
INSERT INTO "ledger" VALUES(44,'shots:20','fccfab4a04e502316fa9e8b1a9d7e48aaa0f402caf3558f696bed604b0f95ffc',NULL);
INSERT INTO "ledger" VALUES(45,'signals:13 signals:14 verdicts:20','3db6747495cea53601b18d0a68cbe08ee11f9494f908254b320e810d34f6a351',NULL);
INSERT INTO "ledger" VALUES(46,'removals:1','290f6b223571019cd51ecc980882731a1c96f8b520dd1334a24bc6f5e22a35b9',NULL);
INSERT INTO "ledger" VALUES(47,'inserts:3 mountings:3','9048e332a1d209f2103099ddf4a3ddd1d0a51350b021fadad0b5154f93447815',NULL);
INSERT INTO "ledger" VALUES(48,'shots:21','3276825e8f1b090b4dd9a1ac62c1e2b6e0d1f47253bded6bc132f22321e86d76',NULL);
INSERT INTO "ledger" VALUES(49,'verdicts:21','5e4adb10812d4b0b51c7031d814d196fa70c482ea89a6ed593694a49adb82fe7',NULL);
INSERT INTO "ledger" VALUES(50,'shots:22','c63e79d5d5d9a4c57937175f5038f2a339e5cf2b97bd7055b0c72bd649d1787c',NULL);
INSERT INTO "ledger" VALUES(51,'verdicts:22','becf3f353e215297ca3c363a331c4ead6a1a3feee00f6f2690ec5ef0b74b5111',NULL);
INSERT INTO "ledger" VALUES(52,'shots:23','df4a6373c7527d699d344b2c048fa371d2f4fee1d5c39e3d1d4abd20afbf2854',NULL);
INSERT INTO "ledger" VALUES(53,'verdicts:23','f57334bbae1093e9547c5b7d48cce0cea3c44bbf2f7459252032e7803ef0329a',NULL);
INSERT INTO "ledger" VALUES(54,'shots:24','c99876cb60288535acfda5b1480ef739fd1d1b88c409a75f1f4ad8751ecd6eb5',NULL);
INSERT INTO "ledger" VALUES(55,'verdicts:24','b40a361b705684161caf9e3fd4a0158bde1b9328e56d45481eca99e94308ea91',NULL);
INSERT INTO "ledger" VALUES(56,'links:1','bea47757b0b942e7c97389738ab3189cbdf487932ea9a603299a27b7538a6055',NULL);
INSERT INTO "ledger" VALUES(57,'clock_steps:1 weighings:1','7afd538d03be3f6b0f343917d90570fbc62c3bfb4adaa8bcbf3f3414324ef69d',NULL);
INSERT INTO "ledger" VALUES(58,'events:1 judgings:2','083f5f7e83dee8dd82af4d2c15839603726214b7eb161eff1511d46a9c4dab3d',NULL);
INSERT INTO "ledger" VALUES(59,'signals:15 signals:16 verdicts:25 verdicts:26 verdicts:27 verdicts:28 verdicts:29','62c8cb3d7388fa5cdc7ffa1cd6313e5a288540f178861c8b1221d12474fadf21',NULL);
INSERT INTO "ledger" VALUES(60,'events:2 judgings:3','499c7edd643353dfbc8c21002b18856ae020783d6dbc10e57a67bd8990415222',NULL);
INSERT INTO "ledger" VALUES(61,'verdicts:30 verdicts:31','dbc21f39aa39a1afbe420b3853c2e042b4579c1b45f017df5aece85b7f8cf4e8',NULL);
INSERT INTO "ledger" VALUES(62,'events:3 judgings:4','36b3c2d762e759129b6f04f728ec63aa4e51f0b9ce920e0921a9207d1f90ba1b',NULL);
INSERT INTO "ledger" VALUES(63,'verdicts:32','c1102f44bdb5552ebd251e2bca3da480dff173d95a4f744b0ea38e81520d31e2',NULL);
INSERT INTO "ledger" VALUES(64,'removals:2','2006276fe23fb00dc1d2b0ddd7ded4f13624b5625bafbe40eb79449b96e4b7ec',NULL);
INSERT INTO "ledger" VALUES(65,'makings:1 judgings:5','bb8d9f1fa3d3550b0a190f3e12bfddd1cb9aaad0f255762151eabe15f2a448c2',NULL);
INSERT INTO "ledger" VALUES(66,'verdicts:33 verdicts:34 verdicts:35 verdicts:36 verdicts:37 verdicts:38 verdicts:39 verdicts:40 baselines:4 baselines:5 baselines:6 verdicts:41 verdicts:42 verdicts:43 verdicts:44 signals:17 verdicts:45 signals:18 verdicts:46 signals:19 signals:20 verdicts:47 signals:21 signals:22 verdicts:48 signals:23 signals:24 verdicts:49 signals:25 signals:26 verdicts:50 signals:27 signals:28 verdicts:51 signals:29 signals:30 verdicts:52 verdicts:53 verdicts:54 verdicts:55 verdicts:56','1446650746c7a21777b5ec3de4e0cc5c2a5f250d87f654bfad38f8e17d54e9ed',NULL);
INSERT INTO "ledger" VALUES(67,'baths:1','79225ed04dae5d3e2222d9137e5584cd4a4a085af1320a74083ec6c39c6564ec',NULL);
INSERT INTO "ledger" VALUES(68,'soaks:1 soaks:2','f86dd40fa77a50369167ac8c3c8bdcb87db7ecd3a00eb89e2052f17d9be5be56',NULL);
INSERT INTO "ledger" VALUES(69,'inspections:1','7c6ea830f848892ce7baf20a9919f1af8bfdf67d8a05e0ef56c7231faf8c2538',NULL);
INSERT INTO "ledger" VALUES(70,'inspections:2','090c7621e2f7c6e9949ae28240a92cec285d5843f1b6416a10c0222c4f44106e',NULL);
INSERT INTO "ledger" VALUES(71,'dispositions:1','630774782ee4a1ea9353c94f66abf7afa0ccb51d12e0f06dfd309150074fa73b',NULL);
INSERT INTO "ledger" VALUES(72,'dispositions:2','91a697735c8c828bb8e3969afd61676ec68cffc83b182a934881e1b0f7c7d943',NULL);
INSERT INTO "ledger" VALUES(73,'corrections:1 judgings:6','9c154438174b5c553fbf735bd4b04d7970243598793c5c557130ecbb905a3997',NULL);
INSERT INTO "ledger" VALUES(74,'verdicts:57 verdicts:58','a87e787a19671d5963ed89e81d164cf2eadd7c29068dd7ce81b0f28b96c52846',NULL);
INSERT INTO "ledger" VALUES(75,'places:1','ae3ca681e9c3343c00a6e8d3245cecbd0b31fadb7339c754830813736005e7bc',NULL);
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
CREATE TABLE logs (
	id INTEGER NOT NULL, 
	uid TEXT NOT NULL, 
	follows TEXT, 
	follows_digest TEXT, 
	reason TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id), 
	UNIQUE (uid)
);
INSERT INTO "logs" VALUES(1,'a6949dd61d534d41be6dc8f58f425606',NULL,NULL,'first written by a release that tells logs apart','2026-11-28T18:32:40.915462Z');
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
INSERT INTO "makings" VALUES(1,1,NULL,'PL-1',NULL,NULL,NULL,NULL,NULL,'60 min at 80 degC',NULL,NULL,NULL,NULL,NULL,NULL,'','2026-11-28T18:32:48.373528Z');
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
INSERT INTO "mountings" VALUES(1,1,1,'moving',0,0,'2026-11-28T18:32:40.916529Z',NULL);
INSERT INTO "mountings" VALUES(2,1,2,'fixed',0,0,'2026-11-28T18:32:40.924150Z',NULL);
INSERT INTO "mountings" VALUES(3,1,3,'moving',23,0,'2026-11-28T18:32:41.531368Z','KB');
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
INSERT INTO "places" VALUES(1,1,5,6,1,'box-3','2026-11-28T18:32:54.204109Z',NULL,2,0,'','2026-11-28T18:32:54.204109Z');
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
INSERT INTO "presses" VALUES(1,'P25','2026-11-28T18:32:40.916529Z');
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
	time TEXT NOT NULL, initials TEXT, newest_mounting BIGINT, 
	PRIMARY KEY (id), 
	FOREIGN KEY(insert_id) REFERENCES inserts (id), 
	FOREIGN KEY(press_id) REFERENCES presses (id)
);
INSERT INTO "removals" VALUES(1,1,1,23,'flash at the gate','2026-11-28T18:32:41.527352Z',NULL,2);
INSERT INTO "removals" VALUES(2,1,2,27,'gate worn','2026-11-28T18:32:47.005656Z',NULL,3);
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
INSERT INTO "shots" VALUES(1,1,1,1,'2026-01-05T06:01:00.000000Z',NULL,5.0,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(2,1,2,2,'2026-01-05T06:02:00.000000Z',NULL,5.02,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(3,1,3,3,'2026-01-05T06:03:00.000000Z',NULL,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(4,1,4,4,'2026-01-05T06:04:00.000000Z',NULL,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(5,1,5,5,'2026-01-05T06:05:00.000000Z',NULL,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(6,1,6,6,'2026-01-05T06:06:00.000000Z',NULL,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(7,1,7,7,'2026-01-05T06:07:00.000000Z',NULL,5.02,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(8,1,8,8,'2026-01-05T06:08:00.000000Z',NULL,4.99,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(9,1,9,9,'2026-01-05T06:09:00.000000Z',NULL,5.01,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(10,1,10,10,'2026-01-05T06:10:00.000000Z',NULL,4.98,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(11,1,13,13,'2026-01-05T06:13:00.000000Z',NULL,4.99,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(12,1,14,14,'2026-01-05T06:14:00.000000Z',NULL,4.95,519.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(13,1,15,15,'2026-01-05T06:15:00.000000Z',NULL,4.86,516.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(14,1,16,16,'2026-01-05T06:16:00.000000Z',NULL,4.82,508.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(15,1,17,17,'2026-01-05T06:17:00.000000Z',NULL,4.78,505.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(16,1,18,18,'2026-01-05T06:18:00.000000Z',NULL,4.69,503.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(17,1,19,19,'2026-01-05T06:19:00.000000Z',NULL,4.65,500.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(18,1,20,20,'2026-01-05T06:20:00.000000Z',NULL,4.56,492.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(19,1,21,21,'2026-01-05T06:21:00.000000Z',NULL,4.52,489.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(20,1,22,22,'2026-01-05T06:22:00.000000Z',NULL,4.48,487.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(21,1,23,23,'2026-01-05T06:23:00.000000Z',NULL,4.99,524.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(22,1,24,24,'2026-01-05T06:24:00.000000Z',NULL,5.01,520.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(23,1,25,25,'2026-01-05T06:25:00.000000Z',NULL,4.98,521.5,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "shots" VALUES(24,1,26,26,'2026-01-05T06:26:00.000000Z',NULL,5.0,523.0,0.41,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO "signals" VALUES(3,1,1,17,'individuals','cushion','below',4.78,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(4,1,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(5,1,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(6,1,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(7,1,1,19,'individuals','cushion','below',4.65,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(8,1,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(9,1,1,20,'individuals','cushion','below',4.56,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(10,1,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(11,1,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(12,1,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(13,1,1,22,'individuals','cushion','below',4.48,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(14,1,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(15,2,1,22,'individuals','cushion','below',4.48,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(16,2,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(17,5,1,15,'individuals','cushion','below',4.86,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(18,5,1,16,'individuals','cushion','below',4.82,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(19,5,1,17,'individuals','cushion','below',4.78,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(20,5,1,17,'individuals','peak_pressure','below',505.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(21,5,1,18,'individuals','cushion','below',4.69,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(22,5,1,18,'individuals','peak_pressure','below',503.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(23,5,1,19,'individuals','cushion','below',4.65,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(24,5,1,19,'individuals','peak_pressure','below',500.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(25,5,1,20,'individuals','cushion','below',4.56,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(26,5,1,20,'individuals','peak_pressure','below',492.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(27,5,1,21,'individuals','cushion','below',4.52,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(28,5,1,21,'individuals','peak_pressure','below',489.5,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
INSERT INTO "signals" VALUES(29,5,1,22,'individuals','cushion','below',4.48,5.00166666666666603902e+00,4.88366904335767770817e+00,5.11966428997565436986e+00);
INSERT INTO "signals" VALUES(30,5,1,22,'individuals','peak_pressure','below',487.0,521.75,5.07692769407327830315e+02,5.35807230592672226535e+02);
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
INSERT INTO "soaks" VALUES(1,1,1,5,1,'2026-11-28T18:32:50.287813Z','2026-11-29T18:32:50.287813Z','','2026-11-28T18:32:50.287813Z');
INSERT INTO "soaks" VALUES(2,1,1,6,1,'2026-11-28T18:32:50.287813Z','2026-11-29T18:32:50.287813Z','','2026-11-28T18:32:50.287813Z');
CREATE TABLE starts (
	id INTEGER NOT NULL, 
	release TEXT NOT NULL, 
	basis TEXT NOT NULL, 
	config TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	maps TEXT NOT NULL, 
	host TEXT NOT NULL, 
	process TEXT NOT NULL, 
	time TEXT NOT NULL, 
	newest_shot BIGINT NOT NULL, 
	PRIMARY KEY (id)
);
INSERT INTO "starts" VALUES(1,'0.2.0','bdb9a0a83411d666','[log]
store = "sqlite:///trial.db"
[[press]]
name = "P25"
  [press.collector]
  kind = "recording"
[design.cap-r2]
settling_shots = 3
baseline_shots = 6
  [design.cap-r2.limits]
  cushion = { low = 4.4 }
','0000000000000000000000000000000000000000000000000000000000000000','{}','press-pc','1','2026-01-05T06:00:00.000000Z',0);
CREATE TABLE trials (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	part TEXT NOT NULL, 
	resin TEXT NOT NULL, 
	time TEXT NOT NULL, 
	PRIMARY KEY (id)
);
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
INSERT INTO "verdicts" VALUES(16,1,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 18 shots until parts are bad (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777118449e-01,14,13,18,18.0,13.0,24.0,1.25222762168596624121e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2432503683218574,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108665,"least":2.0005402415750657},{"channel":"fill_time","size":4.43349409638998e-06,"least":0.012}],"cause_weight":0.2574454275614307,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210315967,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(17,1,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 17 shots until parts are bad (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777118449e-01,14,13,19,17.0,13.0,23.0,1.25222762168596624121e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192582,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.2072974282938,"least":2.0005402415750657},{"channel":"fill_time","size":4.43349409638998e-06,"least":0.012}],"cause_weight":0.2574454275614307,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896411,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(18,1,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 6 shots until parts are bad (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.7693846267549440121e-01,14,10,20,6.0,4.0,10.0,1.85155165383125464018e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.3721911339864793,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080763,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606907246e-07,"least":0.012}],"cause_weight":0.30411450834103076,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567873,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(19,1,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 5 shots until parts are bad (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.7693846267549440121e-01,14,10,21,5.0,3.0,9.0,1.85155165383125464018e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272714,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.49458468949655,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606907246e-07,"least":0.012}],"cause_weight":0.30411450834103076,"half":"moving","halves_alike":"A-07","bad_chance":0.00854963808631921,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(20,1,1,22,'B-11',22,0,'swap','cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.8336628885209038664e-01,14,5,22,3.0,2.0,4.0,2.21702103414882643059e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4759708579196091,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125465,"least":2.0005402415750657},{"channel":"fill_time","size":3.8687746556096784e-07,"least":0.012}],"cause_weight":0.2894829419304182,"rival":"parting-line wear","rival_weight":0.2198938807509671,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255626,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(21,1,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515313974e-01,14,5,23,10.0,7.0,15.0,2.20017702066360456561e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101392,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.56636368543026,"least":2.0005402415750657},{"channel":"fill_time","size":3.665625274353621e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.21615308089208796,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(22,1,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231589872e-01,14,6,24,16.0,12.0,20.0,2.17464198434011564127e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873553,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.6375263259102267e-07,"least":0.012}],"cause_weight":0.29275112944702497,"rival":"parting-line wear","rival_weight":0.19728678367209349,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(23,1,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(24,1,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743068,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(25,2,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.8336628885209038664e-01,14,5,22,3.0,2.0,4.0,2.21702103414882643059e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4759708579196091,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125465,"least":2.0005402415750657},{"channel":"fill_time","size":3.8687746556096784e-07,"least":0.012}],"cause_weight":0.2894829419304182,"rival":"parting-line wear","rival_weight":0.2198938807509671,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255626,"found":{"shot":22,"text":"flash","half":"moving","piece":""},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(26,2,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515313974e-01,14,5,23,10.0,7.0,15.0,2.20017702066360456561e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101392,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.56636368543026,"least":2.0005402415750657},{"channel":"fill_time","size":3.665625274353621e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.21615308089208796,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(27,2,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231589872e-01,14,6,24,16.0,12.0,20.0,2.17464198434011564127e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873553,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.6375263259102267e-07,"least":0.012}],"cause_weight":0.29275112944702497,"rival":"parting-line wear","rival_weight":0.19728678367209349,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(28,2,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(29,2,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.04369260743068,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(30,3,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(31,3,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.14012967720962610229e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(32,4,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.65000595950464079564e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(33,5,1,1,'B-11',1,1,'keep','settling: shot 1 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(34,5,1,2,'B-11',2,1,'keep','settling: shot 2 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(35,5,1,3,'B-11',3,1,'keep','settling: shot 3 on B-11, not judged before shot 4 of the press','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"settling","judged_from":4,"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(36,5,1,4,'B-11',4,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 4 on it; what could be seen by now: a step of 0.86 mm in cushion, 120 bar in peak pressure or 0.304 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.8567555068164849},{"channel":"peak_pressure","size":119.89970070438673},{"channel":"fill_time","size":0.30362614123229176}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(37,5,1,5,'B-11',5,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 5 on it; what could be seen by now: a step of 0.48 mm in cushion, 58 bar in peak pressure or 0.154 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.47897028169997913},{"channel":"peak_pressure","size":58.47350452731671},{"channel":"fill_time","size":0.15383608591190312}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(38,5,1,6,'B-11',6,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 6 on it; what could be seen by now: a step of 0.31 mm in cushion, 42 bar in peak pressure or 0.099 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.3144643039459433},{"channel":"peak_pressure","size":41.698264740550144},{"channel":"fill_time","size":0.09876714588006051}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(39,5,1,7,'B-11',7,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 7 on it; what could be seen by now: a step of 0.29 mm in cushion, 34 bar in peak pressure or 0.070 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.29202122557968746},{"channel":"peak_pressure","size":33.59427907927261},{"channel":"fill_time","size":0.06969168958413281}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(40,5,1,8,'B-11',8,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 8 on it; what could be seen by now: a step of 0.22 mm in cushion, 30 bar in peak pressure or 0.052 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.2215112646703656},{"channel":"peak_pressure","size":29.820228478958473},{"channel":"fill_time","size":0.052030914316076676}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(41,5,1,9,'B-11',9,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 9 on it; what could be seen by now: a step of 0.17 mm in cushion, 24 bar in peak pressure or 0.041 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.16951654471627195},{"channel":"peak_pressure","size":23.783443786327712},{"channel":"fill_time","size":0.040969914434306046}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(42,5,1,10,'B-11',10,0,'keep','not judged: the level of B-11 is not known yet, at shot 12 of the press at the earliest; shot 10 on it; what could be seen by now: a step of 0.16 mm in cushion, 20 bar in peak pressure or 0.034 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":12,"visible":[{"channel":"cushion","size":0.15648683443938569},{"channel":"peak_pressure","size":20.449629781658384},{"channel":"fill_time","size":0.03411091880922406}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(43,5,1,13,'B-11',13,0,'keep','not judged: the level of B-11 is not known yet, at shot 14 of the press at the earliest; shot 13 on it; what could be seen by now: a step of 0.15 mm in cushion, 18 bar in peak pressure or 0.030 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'{"stage":"learning","judged_from":14,"visible":[{"channel":"cushion","size":0.15044205910930453},{"channel":"peak_pressure","size":18.36291095905238},{"channel":"fill_time","size":0.029951815246898633}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(44,5,1,14,'B-11',14,0,'keep','no change seen in these values since shot 4; shot 14 on B-11, moving half; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(45,5,1,15,'B-11',15,0,'keep','no change seen in these values since shot 4; shot 15 on B-11, moving half; shot 15 was odd, look at that part and watch the next shot; what could be seen by now: a step of 0.16 mm in cushion, 17 bar in peak pressure or 0.027 s in fill time','individuals:cushion:below','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,-1.69541144585653169585e+00,3.1,'{"stage":"quiet","quiet_since":4,"n_sisters":0,"odd_shot":15,"visible":[{"channel":"cushion","size":0.16127419017919986},{"channel":"peak_pressure","size":17.02267986073094},{"channel":"fill_time","size":0.027106139728752112}],"half":"moving","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}],"odd_channel":"cushion","odd_by":-4.645556174906327}',NULL,NULL);
INSERT INTO "verdicts" VALUES(46,5,1,16,'B-11',16,0,'swap','cushion down 0.13 mm and peak pressure down 6.8 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 35 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below','crack or breakage','insert',0.731561430669285,15,13,15,35.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.12993895381323983,"least":0.019516169517501104},{"channel":"peak_pressure","size":-6.765329809650268,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662543303480739,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(47,5,1,17,'B-11',17,0,'swap','cushion down 0.16 mm and peak pressure down 8.5 bar since shot 15 (13 to 15): most likely the insert (0.73), crack or breakage; which half cannot be told: B-11, moving half, or A-07, fixed half; parts may be bad from now on, more likely in about 34 shots; 27% that the next part is bad; stop and look at both halves for missing pieces','individuals:cushion:below;individuals:peak_pressure:below','crack or breakage','insert',0.731561430669285,15,13,15,34.0,0.0,NULL,5.4276591607486928126e+00,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.15852589003382478,"least":0.019516169517501104},{"channel":"peak_pressure","size":-8.514523800678893,"least":2.0005402415750657},{"channel":"fill_time","size":2.2739761117153427e-05,"least":0.012}],"cause_weight":0.2631843551479462,"half":"moving","halves_alike":"A-07","bad_chance":0.2662518253585762,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(48,5,1,18,'B-11',18,0,'swap','cushion down 0.24 mm and peak pressure down 15 bar since shot 14 (13 to 18): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 18 shots until parts are bad (13 to 24); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777118449e-01,14,13,18,18.0,13.0,24.0,1.25222762168596624121e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2432503683218574,"least":0.019516169517501104},{"channel":"peak_pressure","size":-15.233370511108665,"least":2.0005402415750657},{"channel":"fill_time","size":4.43349409638998e-06,"least":0.012}],"cause_weight":0.2574454275614307,"half":"moving","halves_alike":"A-07","bad_chance":0.048140557210315967,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(49,5,1,19,'B-11',19,0,'swap','cushion down 0.29 mm and peak pressure down 18 bar since shot 14 (13 to 19): most likely the insert (0.70), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 17 shots until parts are bad (13 to 23); 5% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.99204691345777118449e-01,14,13,19,17.0,13.0,23.0,1.25222762168596624121e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.2902759452192582,"least":0.019516169517501104},{"channel":"peak_pressure","size":-18.2072974282938,"least":2.0005402415750657},{"channel":"fill_time","size":4.43349409638998e-06,"least":0.012}],"cause_weight":0.2574454275614307,"half":"moving","halves_alike":"A-07","bad_chance":0.04810049662896411,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(50,5,1,20,'B-11',20,0,'swap','cushion down 0.37 mm and peak pressure down 23 bar since shot 14 (10 to 20): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 6 shots until parts are bad (4 to 10); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.7693846267549440121e-01,14,10,20,6.0,4.0,10.0,1.85155165383125464018e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.3721911339864793,"least":0.019516169517501104},{"channel":"peak_pressure","size":-23.163818475080763,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606907246e-07,"least":0.012}],"cause_weight":0.30411450834103076,"half":"moving","halves_alike":"A-07","bad_chance":0.008586168846567873,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(51,5,1,21,'B-11',21,0,'swap','cushion down 0.43 mm and peak pressure down 26 bar since shot 14 (10 to 21): most likely the insert (0.68), unknown; which half cannot be told: B-11, moving half, or A-07, fixed half; about 5 shots until parts are bad (3 to 9); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.7693846267549440121e-01,14,10,21,5.0,3.0,9.0,1.85155165383125464018e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.42572709890272714,"least":0.019516169517501104},{"channel":"peak_pressure","size":-26.49458468949655,"least":2.0005402415750657},{"channel":"fill_time","size":2.5576444606907246e-07,"least":0.012}],"cause_weight":0.30411450834103076,"half":"moving","halves_alike":"A-07","bad_chance":0.00854963808631921,"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(52,5,1,22,'B-11',22,0,'swap','seen at shot 22: flash; cushion down 0.48 mm and peak pressure down 29 bar since shot 14 (5 to 22): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told: B-11, moving half, or A-07, fixed half; about 3 shots until parts are bad (2 to 4); 1% that the next part is bad; look at the last part and at both halves','individuals:cushion:below;individuals:peak_pressure:below','unknown','insert',6.8336628885209038664e-01,14,5,22,3.0,2.0,4.0,2.21702103414882643059e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.4759708579196091,"least":0.019516169517501104},{"channel":"peak_pressure","size":-28.923217767125465,"least":2.0005402415750657},{"channel":"fill_time","size":3.8687746556096784e-07,"least":0.012}],"cause_weight":0.2894829419304182,"rival":"parting-line wear","rival_weight":0.2198938807509671,"half":"moving","halves_alike":"A-07","bad_chance":0.007154497414255626,"found":{"shot":22,"text":"flash","half":"moving","piece":""},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-11","since":1}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(53,5,1,23,'A-07',23,1,'watch','cushion down 0.52 mm and peak pressure down 32 bar since shot 14 (5 to 23): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.82815904636515313974e-01,14,5,23,10.0,7.0,15.0,2.20017702066360456561e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5212048295101392,"least":0.019516169517501104},{"channel":"peak_pressure","size":-31.56636368543026,"least":2.0005402415750657},{"channel":"fill_time","size":3.665625274353621e-07,"least":0.012}],"cause_weight":0.28942110217190564,"rival":"parting-line wear","rival_weight":0.21615308089208796,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(54,5,1,24,'A-07',24,1,'watch','cushion down 0.55 mm and peak pressure down 34 bar since shot 14 (6 to 24): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.78429710676231589872e-01,14,6,24,16.0,12.0,20.0,2.17464198434011564127e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5530160328873553,"least":0.019516169517501104},{"channel":"peak_pressure","size":-33.91307614271361,"least":2.0005402415750657},{"channel":"fill_time","size":3.6375263259102267e-07,"least":0.012}],"cause_weight":0.29275112944702497,"rival":"parting-line wear","rival_weight":0.19728678367209349,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(55,5,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(56,5,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.65000595950464079564e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
INSERT INTO "verdicts" VALUES(57,6,1,25,'A-07',25,1,'watch','cushion down 0.59 mm and peak pressure down 35 bar since shot 14 (6 to 25): most likely the insert (0.68), cannot be told apart: unknown or parting-line wear; which half cannot be told yet: B-11, out since shot 23, or A-07, fixed half; look at the last part and at both halves','','unknown','insert',6.75856786592597069684e-01,14,6,25,17.0,14.0,22.0,2.15123803390525694103e+01,3.1,'{"stage":"called","changes":[{"channel":"cushion","size":-0.5883339817250745,"least":0.019516169517501104},{"channel":"peak_pressure","size":-35.45135680625088,"least":2.0005402415750657},{"channel":"fill_time","size":3.0639607298815545e-07,"least":0.012}],"cause_weight":0.2942186507662853,"rival":"parting-line wear","rival_weight":0.18187793417544662,"half":"fixed","mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}],"asked":{"insert":"B-11","at_shot":23}}',NULL,NULL);
INSERT INTO "verdicts" VALUES(58,6,1,26,'B-12',4,0,'keep','no change seen in these values since shot 23; swap at shot 23: the level came back with the swap: it was B-11; shot 4 on B-12, moving half; what could be seen by now: a step of 0.38 mm in cushion, 31 bar in peak pressure or 0.022 s in fill time','','','',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1.07307414399441181096e+00,2.3,'{"stage":"quiet","quiet_since":23,"n_sisters":1,"visible":[{"channel":"cushion","size":0.37577287231599343},{"channel":"peak_pressure","size":31.395224676719568},{"channel":"fill_time","size":0.02202145719469666}],"half":"moving","swap":{"press":"P25","insert":"B-11","at_shot":23,"outcome":"confirmed","log_ratio":-3.3611601960393753,"log_prior":0.2654811017191871},"mould":[{"half":"fixed","serial":"A-07","since":1},{"half":"moving","serial":"B-12","since":23}]}',NULL,NULL);
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
