/* The double of peer.py by libmodbus: the same arguments, the same lines in and out. */
#include <modbus.h>
#include <arpa/inet.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/select.h>
#include <sys/socket.h>
#include <sys/time.h>
#include <unistd.h>

#define MOST_CLIENTS 16
#define MOST_SPANS 64

static modbus_mapping_t *map;
static int holding = 1, most = 125, slow_ms, refuse_every, refuse_code = 6, drop_at, n_requests;
static int spans[MOST_SPANS][2], n_spans;
static char pending[1 << 16];
static size_t n_pending;

static void argument(char *given) {
    char *value = strchr(given, '=');
    if (!value) exit(2);
    *value++ = 0;
    if (!strcmp(given, "table")) holding = !strcmp(value, "holding");
    else if (!strcmp(given, "most")) most = atoi(value);
    else if (!strcmp(given, "slow_ms")) slow_ms = atoi(value);
    else if (!strcmp(given, "refuse_every")) refuse_every = atoi(value);
    else if (!strcmp(given, "refuse_code")) refuse_code = atoi(value);
    else if (!strcmp(given, "drop_at")) drop_at = atoi(value);
    else if (!strcmp(given, "legal"))
        for (char *span = strtok(value, ","); span && n_spans < MOST_SPANS; span = strtok(NULL, ","), n_spans++)
            if (sscanf(span, "%d-%d", &spans[n_spans][0], &spans[n_spans][1]) != 2) exit(2);
}

static void put(char *line) {
    char *rest;
    long at = strtol(line, &rest, 10);
    uint16_t *words = holding ? map->tab_registers : map->tab_input_registers;
    for (char *next = rest; at < 65536; rest = next, at++) {
        long word = strtol(rest, &next, 10);
        if (next == rest) break;
        words[at] = (uint16_t)word;
    }
}

static void take_input(void) {
    ssize_t got = read(0, pending + n_pending, sizeof pending - 1 - n_pending);
    if (got <= 0) exit(0);
    n_pending += (size_t)got;
    pending[n_pending] = 0;
    char *line = pending, *end;
    for (; (end = strchr(line, '\n')); line = end + 1) *end = 0, put(line);
    n_pending = strlen(line);
    memmove(pending, line, n_pending + 1);
}

static void wait_ms(int ms) {
    struct timeval left = {ms / 1000, ms % 1000 * 1000}; /* select counts it down on Linux */
    while (left.tv_sec || left.tv_usec) {
        fd_set set;
        FD_ZERO(&set);
        FD_SET(0, &set);
        if (select(1, &set, NULL, NULL, &left) > 0) take_input();
    }
}

/* Answer one request; -1 where the line is to be closed. */
static int answer(modbus_t *bus) {
    unsigned char query[MODBUS_TCP_MAX_ADU_LENGTH];
    int got = modbus_receive(bus, query), head = modbus_get_header_length(bus), legal = 0;
    if (got <= 0) return got;
    int function = query[head], at = query[head + 1] << 8 | query[head + 2], count = query[head + 3] << 8 | query[head + 4];
    if (function != 3 && function != 4) {
        printf("forbidden %d\n", function), fflush(stdout);
        return modbus_reply_exception(bus, query, MODBUS_EXCEPTION_ILLEGAL_FUNCTION);
    }
    if (++n_requests == 1) printf("read\n"), fflush(stdout);
    int n = n_requests;
    wait_ms(slow_ms);
    if (n == drop_at) return -1;
    for (int k = 0; k < n_spans; k++) legal |= spans[k][0] <= at && at + count - 1 <= spans[k][1];
    if ((function == 3) != holding) return modbus_reply_exception(bus, query, MODBUS_EXCEPTION_ILLEGAL_DATA_ADDRESS);
    if (count > most) return modbus_reply_exception(bus, query, MODBUS_EXCEPTION_ILLEGAL_DATA_VALUE);
    if (!legal) return modbus_reply_exception(bus, query, MODBUS_EXCEPTION_ILLEGAL_DATA_ADDRESS);
    if (refuse_every && n % refuse_every == 0) return modbus_reply_exception(bus, query, (unsigned)refuse_code);
    return modbus_reply(bus, query, got, map);
}

int main(int argc, char **argv) {
    int clients[MOST_CLIENTS], n_clients = 0;
    struct sockaddr_in name;
    socklen_t size = sizeof name;
    for (int k = 1; k < argc; k++) argument(argv[k]);
    map = modbus_mapping_new(0, 0, 65536, 65536);
    modbus_t *bus = modbus_new_tcp("127.0.0.1", 0);
    int listener = modbus_tcp_listen(bus, MOST_CLIENTS);
    if (!map || listener < 0) return 3;
    getsockname(listener, (struct sockaddr *)&name, &size);
    printf("%d\n", ntohs(name.sin_port)), fflush(stdout);
    for (;;) {
        fd_set set;
        int highest = listener;
        FD_ZERO(&set);
        FD_SET(0, &set);
        FD_SET(listener, &set);
        for (int k = 0; k < n_clients; k++) {
            FD_SET(clients[k], &set);
            if (clients[k] > highest) highest = clients[k];
        }
        if (select(highest + 1, &set, NULL, NULL, NULL) < 0) return 4;
        if (FD_ISSET(0, &set)) take_input();
        for (int k = n_clients - 1; k >= 0; k--) {
            if (!FD_ISSET(clients[k], &set)) continue;
            modbus_set_socket(bus, clients[k]);
            if (answer(bus) < 0) close(clients[k]), clients[k] = clients[--n_clients];
        }
        if (FD_ISSET(listener, &set)) {
            int fresh = accept(listener, NULL, NULL);
            if (fresh >= 0 && n_clients < MOST_CLIENTS) clients[n_clients++] = fresh;
            else if (fresh >= 0) close(fresh);
        }
    }
}
