/* Times CHOLMOD's ordering, analysis and simplicial factorisation of a grounded conductance matrix,
 * through its public interface. Usage: cholmod FILE RUNS. The file holds "nodes edges" and then "i j
 * siemens" for every edge, -1 for ground. Prints the least seconds of RUNS for ordering (approximate
 * minimum degree), for analysis (with its ordering) and for factorisation, the entries of the factor
 * below its diagonal, and the residual of a solution. A selected inverse CHOLMOD has not.
 */
#include <cholmod.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

static double now(void) {
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static int fail(const char *what) {
    fprintf(stderr, "cholmod: %s\n", what);
    return 1;
}

/* matrix reads the edges into the lower triangle of a sparse matrix. */
static cholmod_sparse *matrix(FILE *in, cholmod_common *c) {
    int n, m;
    if (fscanf(in, "%d %d", &n, &m) != 2 || n < 1 || m < 0) return NULL;
    cholmod_triplet *t = cholmod_allocate_triplet(n, n, (size_t)m * 3, -1, CHOLMOD_REAL, c);
    if (!t) return NULL;
    int *row = t->i, *column = t->j;
    double *value = t->x;
    size_t k = 0;
    for (int e = 0; e < m; e++) {
        int i, j;
        double g;
        if (fscanf(in, "%d %d %lf", &i, &j, &g) != 3) return NULL;
        if (i == j) continue;
        if (i >= 0) { row[k] = i; column[k] = i; value[k++] = g; }
        if (j >= 0) { row[k] = j; column[k] = j; value[k++] = g; }
        if (i >= 0 && j >= 0) {
            row[k] = i > j ? i : j;
            column[k] = i > j ? j : i;
            value[k++] = -g;
        }
    }
    t->nnz = k;
    cholmod_sparse *a = cholmod_triplet_to_sparse(t, k, c);
    cholmod_free_triplet(&t, c);
    return a;
}

/* residual solves for one ampere into the first node and gives the largest current left over. */
static double residual(cholmod_sparse *a, cholmod_factor *f, cholmod_common *c) {
    cholmod_dense *b = cholmod_zeros(a->nrow, 1, CHOLMOD_REAL, c);
    ((double *)b->x)[0] = 1;
    cholmod_dense *x = cholmod_solve(CHOLMOD_A, f, b, c);
    double one[2] = {1, 0}, minus[2] = {-1, 0};
    cholmod_sdmult(a, 0, minus, one, x, b, c);
    double worst = cholmod_norm_dense(b, 0, c);
    cholmod_free_dense(&x, c);
    cholmod_free_dense(&b, c);
    return worst;
}

int main(int argc, char **argv) {
    if (argc != 3) return fail("usage: cholmod FILE RUNS");
    FILE *in = fopen(argv[1], "r");
    if (!in) return fail("cannot open the file");
    cholmod_common c;
    cholmod_start(&c);
    cholmod_sparse *a = matrix(in, &c);
    fclose(in);
    if (!a) return fail("cannot read the file");

    c.nmethods = 1;
    c.method[0].ordering = CHOLMOD_AMD;
    c.postorder = 1;
    c.supernodal = CHOLMOD_SIMPLICIAL;
    c.final_ll = 0;

    int *order = malloc(a->nrow * sizeof *order);
    if (!order) return fail("no memory");
    double ordering = INFINITY, analysis = INFINITY, factorisation = INFINITY, entries = 0, worst = 0;
    for (int run = 0; run < atoi(argv[2]); run++) {
        double begin = now();
        if (!cholmod_amd(a, NULL, 0, order, &c)) return fail("no order");
        double start = now();
        cholmod_factor *f = cholmod_analyze(a, &c);
        double middle = now();
        if (!f || !cholmod_factorize(a, f, &c) || c.status != CHOLMOD_OK) return fail("no factor");
        double end = now();
        ordering = fmin(ordering, start - begin);
        analysis = fmin(analysis, middle - start);
        factorisation = fmin(factorisation, end - middle);
        entries = c.lnz - (double)a->nrow;
        worst = residual(a, f, &c);
        cholmod_free_factor(&f, &c);
    }
    printf("%.9f %.9f %.9f %.0f %.3g\n", ordering, analysis, factorisation, entries, worst);
    free(order);
    cholmod_free_sparse(&a, &c);
    cholmod_finish(&c);
    return 0;
}
