/* A press and a reader by libmodbus, for the bench: what a whole poll costs a reader in C against the same press.
 *
 * modbus_peer serve            prints its port, and plays a press of its own to each that connects: the counter goes on
 *                              after every third reading of it, which is how often it is read where a shot is taken
 * modbus_peer read PORT        for each line "WHAT N" on its input ("idle": a counter that stands; "shot": counter, block,
 *                              counter, block, counter) does it N times; prints seconds by the clock, and of the processor
 */
#include <arpa/inet.h>
#include <modbus.h>
#include <signal.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/socket.h>
#include <time.h>
#include <unistd.h>

enum { COUNTER = 0, STANDS = 50, BLOCK = 100, WORDS = 4 };

static double seconds(clockid_t of) {
    struct timespec now;
    clock_gettime(of, &now);
    return now.tv_sec + now.tv_nsec * 1e-9;
}

static void play(modbus_t *bus) {
    modbus_mapping_t *map = modbus_mapping_new(0, 0, BLOCK + WORDS, 0);
    uint8_t query[MODBUS_TCP_MAX_ADU_LENGTH];
    uint16_t *shown = map->tab_registers;
    shown[COUNTER] = 1, shown[BLOCK] = 494, shown[BLOCK + 1] = 5420;
    modbus_set_float_abcd(0.72f, shown + BLOCK + 2);
    for (int got, seen = 0; (got = modbus_receive(bus, query)) >= 0;) {
        if (!got) continue;
        modbus_reply(bus, query, got, map);
        if ((query[8] << 8 | query[9]) == COUNTER && ++seen % 3 == 0) {
            shown[COUNTER] = shown[COUNTER] % 60000 + 1;
            shown[BLOCK] = 480 + shown[COUNTER] % 30;
        }
    }
}

static int serve(void) {
    modbus_t *bus = modbus_new_tcp("127.0.0.1", 0);
    struct sockaddr_in name;
    socklen_t size = sizeof name;
    int listener = modbus_tcp_listen(bus, 5);
    if (listener < 0) return 1;
    signal(SIGCHLD, SIG_IGN);
    getsockname(listener, (struct sockaddr *)&name, &size);
    printf("%d\n", ntohs(name.sin_port));
    fflush(stdout);
    while (modbus_tcp_accept(bus, &listener) >= 0) {
        if (!fork()) {
            play(bus);
            _exit(0);
        }
        close(modbus_get_socket(bus)); /* modbus_close would end the connection of the child as well */
    }
    return 0;
}

static int reads(const char *port) {
    modbus_t *bus = modbus_new_tcp("127.0.0.1", atoi(port));
    uint16_t words[WORDS];
    char what[8];
    int n, bad = 0;
    if (modbus_connect(bus)) return 1;
    while (scanf("%7s %d", what, &n) == 2) {
        double clock = seconds(CLOCK_MONOTONIC), processor = seconds(CLOCK_PROCESS_CPUTIME_ID);
        int idle = !strcmp(what, "idle");
        for (int i = 0; i < n; i++) {
            bad |= modbus_read_registers(bus, idle ? STANDS : COUNTER, 1, words) != 1;
            for (int again = 0; again < 2 && !idle; again++) {
                bad |= modbus_read_registers(bus, BLOCK, WORDS, words) != WORDS;
                bad |= modbus_read_registers(bus, COUNTER, 1, words) != 1;
            }
        }
        printf("%.9f %.9f\n", seconds(CLOCK_MONOTONIC) - clock, seconds(CLOCK_PROCESS_CPUTIME_ID) - processor);
        fflush(stdout);
        if (bad) return 1;
    }
    return 0;
}

int main(int argc, char **argv) {
    return argc == 2 && !strcmp(argv[1], "serve") ? serve() : argc == 3 && !strcmp(argv[1], "read") ? reads(argv[2]) : 2;
}
