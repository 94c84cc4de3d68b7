/* Alone. */
#include "studies/ranks.h"

bool ranks_begin(void)
{
    return true;
}

void ranks_end(void)
{
}

int ranks_own(void)
{
    return 0;
}

int ranks_count(void)
{
    return 1;
}

int ranks_jobs(void)
{
    return 0;
}

void ranks_send(int to, int kind, const void *data, size_t size)
{
    (void)to;
    (void)kind;
    (void)data;
    (void)size;
}

bool ranks_receive(struct ranks_message *message)
{
    *message = (struct ranks_message){0};
    return false;
}

void ranks_rest(void)
{
}
