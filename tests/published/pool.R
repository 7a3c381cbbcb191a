# Reference values for tests/published/pool.test.ts, written to pool-reference.json beside it:
#
#   Rscript tests/published/pool.R > tests/published/pool-reference.json
#
# Base R and its packages survival and nlme; nothing of the project is used. Data are invented, drawn with
# fixed seeds and rounded to whole pages. The versions used are printed into the output.

suppressMessages(library(survival))
suppressMessages(library(nlme))
RNGkind("Mersenne-Twister", "Inversion", "Rejection")
options(contrasts = c("contr.treatment", "contr.poly"))

num <- function(x) ifelse(is.na(x), "null", sprintf("%.15g", x))
arr <- function(x, f = num) paste0("[", paste(f(x), collapse = ", "), "]")
str <- function(x) paste0("\"", x, "\"")
obj <- function(...) {
  parts <- list(...)
  paste0("{", paste(paste0(str(names(parts)), ": ", unlist(parts)), collapse = ", "), "}")
}
rows <- function(x) paste0("[\n    ", paste(x, collapse = ",\n    "), "\n  ]")

# --- Censored normal data, by maximum likelihood -------------------------------------------------------
censored <- function(name, exact, at_least) {
  time <- c(exact, at_least)
  event <- c(rep(1, length(exact)), rep(0, length(at_least)))
  fit <- survreg(Surv(time, event) ~ 1, dist = "gaussian",
                 control = survreg.control(rel.tolerance = 1e-14, maxiter = 500))
  obj(name = str(name), exact = arr(exact), at_least = arr(at_least),
      mean = num(unname(fit$coefficients)), sd = num(fit$scale))
}
set.seed(19752)
draw <- function(n, mean, sd) round(rnorm(n, mean, sd))
nine <- draw(9, 10800, 240)
ten <- draw(10, 15400, 900)
twelve <- draw(12, 2310, 25)
censored_rows <- c(
  censored("nine, none censored", nine, numeric(0)),
  censored("nine, the sixth stopped at what it would have printed less 400", nine[-6], nine[6] - 400),
  censored("nine, one stopped above all the others", nine[-2], max(nine) + 300),
  censored("ten, half stopped at 15 000", ten[1:5], rep(15000, 5)),
  censored("ten, all above 15 300 stopped there", ten[ten < 15300], rep(15300, sum(ten >= 15300))),
  censored("twelve, half stopped at places of their own", twelve[1:6], twelve[7:12] - c(3, 40, 11, 90, 22, 7)),
  censored("two exhausted, four stopped", c(9800, 10400), c(9900, 10000, 10100, 10200))
)

# --- One-way random effects, from the mean squares of aov -----------------------------------------------
effects <- function(name, groups) {
  y <- unlist(groups)
  m <- factor(rep(seq_along(groups), sapply(groups, length)))
  ms <- summary(aov(y ~ m))[[1]][["Mean Sq"]]
  n <- sapply(groups, length)
  n0 <- (sum(n) - sum(n^2) / sum(n)) / (length(n) - 1)
  component <- (ms[1] - ms[2]) / n0
  means <- sapply(groups, mean)
  bound <- function(level) t.test(means, alternative = "greater", conf.level = level)$conf.int[1]
  reml <- NA
  if (length(unique(n)) == 1 && component > 0) {
    fit <- lme(y ~ 1, random = ~ 1 | m, method = "REML", control = lmeControl(msTol = 1e-12, tolerance = 1e-12))
    reml <- as.numeric(VarCorr(fit)[1, "StdDev"])
  }
  obj(name = str(name), groups = paste0("[", paste(sapply(groups, arr), collapse = ", "), "]"),
      mean_squares = arr(ms), n0 = num(n0), between = num(sqrt(max(component, 0))), within = num(sqrt(ms[2])),
      reml_between = num(reml), clustered_90 = num(bound(0.9)), clustered_95 = num(bound(0.95)))
}
set.seed(19798)
machine <- function(n, shift) round(10800 + shift + rnorm(n, 0, 180))
effects_rows <- c(
  effects("balanced, three machines by three", list(machine(3, -300), machine(3, 40), machine(3, 260))),
  effects("balanced, five machines by four",
          list(machine(4, -500), machine(4, 200), machine(4, 0), machine(4, 450), machine(4, -120))),
  effects("unbalanced, two, three and four", list(machine(2, 350), machine(3, 0), machine(4, -280))),
  effects("unbalanced, one machine with a single cartridge", list(machine(1, 400), machine(5, 0), machine(3, -200))),
  effects("machines alike: the component is negative", list(c(10700, 10950), c(10720, 10940), c(10680, 10960)))
)

# --- Bounds of a mean, plain --------------------------------------------------------------------------
plain <- function(x) {
  one <- function(level) t.test(x, alternative = "greater", conf.level = level)$conf.int[1]
  two <- function(level) t.test(x, conf.level = level)$conf.int[1]
  obj(values = arr(x), mean = num(mean(x)), sd = num(sd(x)),
      lower_one_sided_90 = num(one(0.9)), lower_one_sided_95 = num(one(0.95)),
      lower_two_sided_90 = num(two(0.9)), lower_two_sided_95 = num(two(0.95)))
}
plain_rows <- c(plain(c(2310, 2285, 2342, 2298, 2325, 2270, 2335, 2301, 2319)), plain(nine), plain(ten), plain(c(9800, 10400)))

# --- Grubbs' critical values, two-sided, from Student's t ------------------------------------------------
grubbs <- function(n, alpha) {
  t <- qt(alpha / (2 * n), n - 2, lower.tail = FALSE)
  obj(n = num(n), alpha = num(alpha), critical = num((n - 1) / sqrt(n) * sqrt(t^2 / (n - 2 + t^2))))
}
grid <- expand.grid(n = c(3:12, 15, 20, 30, 50, 100), alpha = c(0.05, 0.01))
grubbs_rows <- mapply(grubbs, grid$n, grid$alpha)

# --- Two samples: Welch, Fieller's interval of the ratio as roots of its quadratic, two one-sided tests ----
fieller <- function(name, x, y, level, margin) {
  w <- t.test(x, y, conf.level = level)
  q <- qt((1 + level) / 2, w$parameter)
  vx <- var(x) / length(x)
  vy <- var(y) / length(y)
  # (mean(x) - r mean(y))^2 = q^2 (vx + r^2 vy)
  a <- mean(y)^2 - q^2 * vy
  b <- -2 * mean(x) * mean(y)
  c <- mean(x)^2 - q^2 * vx
  root <- sqrt(b^2 - 4 * a * c)
  above <- t.test(x, y, mu = -margin, alternative = "greater")$p.value
  below <- t.test(x, y, mu = margin, alternative = "less")$p.value
  obj(name = str(name), first = arr(x), second = arr(y), level = num(level), t = num(w$statistic),
      freedom = num(w$parameter), difference_low = num(w$conf.int[1]), difference_high = num(w$conf.int[2]),
      ratio_low = if (a > 0) num((-b - root) / (2 * a)) else "null",
      ratio_high = if (a > 0) num((-b + root) / (2 * a)) else "null",
      margin = num(margin), p = num(max(above, below)))
}
set.seed(24712)
own <- draw(9, 10800, 240)
other <- draw(6, 10650, 420)
fieller_rows <- c(
  fieller("nine against six, 90 %", own, other, 0.9, 500),
  fieller("nine against six, 95 %", own, other, 0.95, 200),
  fieller("two against three", c(10000, 10400), c(9700, 9900, 10300), 0.9, 1500),
  fieller("four against four, alike but for ten pages", c(10000, 10200, 9800, 10000), c(10010, 10210, 9810, 10010), 0.9, 235),
  fieller("the second mean could be zero", c(10, 14, 12), c(1, -2, 3), 0.9, 20)
)

# --- Tolerance factors from the non-central t ---------------------------------------------------------------
factor_of <- function(n, share, level) {
  obj(n = num(n), share = num(share), confidence = num(level),
      k = num(qt(level, n - 1, ncp = qnorm(share) * sqrt(n)) / sqrt(n)))
}
grid <- expand.grid(n = c(2:12, 15, 20, 30, 50, 100, 200), level = c(0.5, 0.9, 0.95, 0.99))
factor_rows <- mapply(factor_of, grid$n, 0.9, grid$level)
sharp_rows <- mapply(factor_of, c(2, 3, 4, 9, 2, 3, 4, 9), 0.9, c(rep(0.999, 4), rep(0.9999, 4)))

# --- Quantiles and functions ---------------------------------------------------------------------------------
grid <- expand.grid(df = c(1, 1.5, 2, 3.7, 8, 15.532514, 136.875, 1000), p = c(0.6, 0.9, 0.95, 0.975, 0.9995, 0.99995))
student_rows <- mapply(function(df, p) obj(df = num(df), p = num(p), t = num(qt(p, df))), grid$df, grid$p)
normal_rows <- sapply(c(0.001, 0.025, 0.05, 0.1, 0.3, 0.5, 0.7, 0.9, 0.95, 0.975, 0.99, 0.999, 0.9999),
                      function(p) obj(p = num(p), z = num(qnorm(p))))
gamma_rows <- sapply(c(0.1, 0.5, 1, 1.5, 2, 2.5, 3, 4.5, 7, 11.9, 12, 12.1, 20, 50.5, 100, 500, 1000, 12345.5),
                     function(x) obj(x = num(x), value = num(lgamma(x))))
binomial <- function(k, n, level) {
  obj(k = num(k), n = num(n), confidence = num(level),
      upper = num(binom.test(k, n, alternative = "less", conf.level = level)$conf.int[2]))
}
binomial_rows <- mapply(binomial, c(0, 1, 1, 2, 4, 5, 0, 3, 17, 0, 40), c(1, 2, 5, 9, 5, 5, 100, 100, 100, 1000, 1000),
                        c(0.9, 0.9, 0.9, 0.95, 0.9, 0.9, 0.9, 0.95, 0.99, 0.9, 0.9))

cat(paste0("{\n",
  "  \"generator\": \"tests/published/pool.R\",\n",
  "  \"tool\": ", str(paste0(R.version.string, "; survival ", packageVersion("survival"), "; nlme ", packageVersion("nlme"))), ",\n",
  "  \"provenance\": \"computed\",\n",
  "  \"censored\": ", rows(censored_rows), ",\n",
  "  \"random_effects\": ", rows(effects_rows), ",\n",
  "  \"plain\": ", rows(plain_rows), ",\n",
  "  \"grubbs\": ", rows(grubbs_rows), ",\n",
  "  \"two_samples\": ", rows(fieller_rows), ",\n",
  "  \"tolerance\": ", rows(factor_rows), ",\n",
  "  \"tolerance_sharp\": ", rows(sharp_rows), ",\n",
  "  \"student\": ", rows(student_rows), ",\n",
  "  \"normal\": ", rows(normal_rows), ",\n",
  "  \"log_gamma\": ", rows(gamma_rows), ",\n",
  "  \"binomial_upper\": ", rows(binomial_rows), "\n}\n"))
