/* Queries a second over a serial line by termios alone: termiosLoop PATH WARM_UP QUERIES QUESTION. Prints the rate. */
#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return t.tv_sec + t.tv_nsec * 1e-9;
}

static void query(int port, const char *question) {
  char answer[256];
  ssize_t have = 0;
  ssize_t length = strlen(question);
  if (write(port, question, length) != length) exit(1);
  do {
    ssize_t got = read(port, answer + have, sizeof answer - have);
    if (got <= 0) exit(1);
    have += got;
  } while (answer[have - 1] != '\n');
}

int main(int count, char **arguments) {
  if (count != 5) return 2;
  int port = open(arguments[1], O_RDWR | O_NOCTTY);
  struct termios settings;
  if (port < 0 || tcgetattr(port, &settings) != 0) return 1;
  cfmakeraw(&settings);
  if (tcsetattr(port, TCSANOW, &settings) != 0) return 1;
  for (int warm = atoi(arguments[2]); warm > 0; warm--) query(port, arguments[4]);
  int queries = atoi(arguments[3]);
  double began = now();
  for (int left = queries; left > 0; left--) query(port, arguments[4]);
  printf("%.1f\n", queries / (now() - began));
  return 0;
}
