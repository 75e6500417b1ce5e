# Reference values for survival, censored fits, normality tests and nested variance components, from R.
# Made with R 4.2.2, survival 3.5-3, nortest 1.0-4, lme4 1.1-31 (Debian 12). Run again only to add cases: Rscript statistics_survival.R
# Writes statistics-survival-data.csv (invented data) and statistics-survival.csv (set, quantity, argument, value, relative tolerance).
suppressMessages({library(survival); library(nortest); library(lme4)})
options(digits = 16)
out <- data.frame()
add <- function(set, quantity, argument, value, tolerance) {
  out <<- rbind(out, data.frame(set = set, quantity = quantity, argument = format(argument, digits = 15, trim = TRUE),
                                value = ifelse(is.na(value), "none", format(value, digits = 16, trim = TRUE)), tolerance = tolerance))
}

# Invented lifetimes in kilohours: rounded, so that ties occur, some censored, three causes, three groups, two covariates.
set.seed(20240611, kind = "Mersenne-Twister", normal.kind = "Inversion", sample.kind = "Rejection")
n <- 80
x1 <- round(rnorm(n), 2)
x2 <- rep(0:1, length.out = n)
group <- rep(0:2, length.out = n)
life <- 10 * exp(0.3 * x1 - 0.4 * x2) * rweibull(n, 1.7)
end <- runif(n, 4, 20)
time <- pmax(0.1, round(pmin(life, end), 1))
cause <- ifelse(life <= end, sample(1:3, n, TRUE, c(0.5, 0.3, 0.2)), 0)
plain <- data.frame(set = "cells", unit = 0:(n - 1), time, cause, group, x1, x2)
event <- as.integer(cause > 0)

fit_ll <- survfit(Surv(time, event) ~ 1, conf.type = "log-log")
fit_pl <- survfit(Surv(time, event) ~ 1, conf.type = "plain")
for (t in c(2, 5, 8.05, 11, 14)) {
  s <- summary(fit_ll, times = t); p <- summary(fit_pl, times = t)
  add("cells", "km-survival", t, s$surv, 1e-12)
  add("cells", "km-error", t, s$std.err, 1e-11)
  add("cells", "km-loglog-lower", t, s$lower, 1e-10)
  add("cells", "km-loglog-upper", t, s$upper, 1e-10)
  add("cells", "km-plain-lower", t, p$lower, 1e-10)
  add("cells", "km-plain-upper", t, p$upper, 1e-10)
}
# Fractions at which the curve is not flat: where S equals 1 - q over an interval R takes its middle, ours its beginning.
for (q in c(0.12, 0.27, 0.5, 0.9)) {
  s <- quantile(fit_ll, q)
  add("cells", "km-quantile", q, as.numeric(s$quantile), 1e-12)
  add("cells", "km-quantile-lower", q, as.numeric(s$lower), 1e-12)
  add("cells", "km-quantile-upper", q, as.numeric(s$upper), 1e-12)
}
for (h in c(6, 13)) {
  s <- survival:::survmean(fit_ll, rmean = h)$matrix
  add("cells", "restricted-mean", h, s[["rmean"]], 1e-10)
  add("cells", "restricted-mean-error", h, s[["se(rmean)"]], 1e-10)
}
d <- survdiff(Surv(time, event) ~ group)
add("cells", "log-rank-three-groups", 0, d$chisq, 1e-10)
for (g in 0:2) add("cells", "log-rank-expected", g, d$exp[g + 1], 1e-10)

aj <- survfit(Surv(time, factor(cause, 0:3)) ~ 1)
for (t in c(3, 7, 12)) {
  s <- summary(aj, times = t)
  for (k in 1:3) {
    add("cells", paste0("incidence-", k), t, s$pstate[k + 1], 1e-11)
    add("cells", paste0("incidence-error-", k), t, s$std.err[k + 1], 1e-9)
  }
}

tight <- survreg.control(maxiter = 200, rel.tolerance = 1e-14)
for (family in c("weibull", "lognormal", "exponential")) {
  m <- survreg(Surv(time, event) ~ x1 + x2, dist = family, control = tight)
  for (k in 0:2) add("cells", paste0(family, "-coefficient"), k, coef(m)[k + 1], 1e-8)
  for (k in 0:2) add("cells", paste0(family, "-variance"), k, vcov(m)[k + 1, k + 1], 1e-7)
  if (family != "exponential") {
    add("cells", paste0(family, "-scale"), 0, m$scale, 1e-8)
    add("cells", paste0(family, "-log-scale-variance"), 0, vcov(m)[4, 4], 1e-7)
  }
  add("cells", paste0(family, "-loglik"), 0, m$loglik[2], 1e-11)
  s <- predict(m, newdata = data.frame(x1 = 0.5, x2 = 1), type = "uquantile", p = c(0.1, 0.5), se.fit = TRUE)
  add("cells", paste0(family, "-quantile"), 0.1, exp(s$fit[1]), 1e-8)
  add("cells", paste0(family, "-quantile-log-error"), 0.1, s$se.fit[1], 1e-7)
  add("cells", paste0(family, "-quantile"), 0.5, exp(s$fit[2]), 1e-8)
}

# The remission data of the published rows, with more digits than those print (MASS::gehan holds the same).
r <- data.frame(time = c(6, 6, 6, 6, 7, 9, 10, 10, 11, 13, 16, 17, 19, 20, 22, 23, 25, 32, 32, 34, 35),
                event = c(1, 1, 1, 0, 1, 0, 1, 0, 0, 1, 1, 0, 0, 0, 1, 1, 0, 0, 0, 0, 0))
f <- survfit(Surv(time, event) ~ 1, data = r, conf.type = "log-log")
for (t in c(6, 7, 13, 16, 22, 23)) {
  s <- summary(f, times = t)
  add("remission", "km-loglog-lower", t, s$lower, 1e-11)
  add("remission", "km-loglog-upper", t, s$upper, 1e-11)
}
s <- quantile(f, 0.5)
add("remission", "km-quantile-lower", 0.5, as.numeric(s$lower), 1e-12)
add("remission", "km-quantile-upper", 0.5, as.numeric(s$upper), 1e-12)

# Recurrent events of 25 invented units, two causes, different ends of observation, some units without an event.
units <- 25
ends <- round(runif(units, 5, 20), 1)
events <- do.call(rbind, lapply(1:units, function(u) {
  k <- rpois(1, 0.25 * ends[u] * rgamma(1, 2, 2))
  if (k == 0) NULL else data.frame(unit = u - 1, time = sort(round(runif(k, 0.1, ends[u]), 1)), cause = sample(1:2, k, TRUE))
}))
recurrent <- rbind(data.frame(set = "recurrent", unit = events$unit, time = events$time, cause = events$cause, group = 0, x1 = 0, x2 = 0),
                   data.frame(set = "recurrent-end", unit = 0:(units - 1), time = ends, cause = 0, group = 0, x1 = 0, x2 = 0))
for (k in 0:2) {
  e <- if (k == 0) events else events[events$cause == k, ]
  # Written out from the definition, unit by unit.
  at <- sort(unique(e$time))
  for (t in c(4, 9, 15)) {
    u <- at[at <= t]
    nrisk <- sapply(u, function(v) sum(ends >= v))
    d <- sapply(u, function(v) sum(e$time == v))
    w <- sapply(0:(units - 1), function(i) {
      own <- sapply(u, function(v) sum(e$time == v & e$unit == i))
      sum((ends[i + 1] >= u) * (own - d / nrisk) / nrisk)
    })
    add("recurrent", paste0("mcf-", k), t, sum(d / nrisk), 1e-12)
    add("recurrent", paste0("mcf-error-", k), t, sqrt(sum(w^2)), 1e-11)
  }
}
# The same for all causes by the package: intervals between events of each unit, clustered by unit (ties within a unit moved by a hair).
e <- events[order(events$unit, events$time), ]
e <- e[!duplicated(e[, c("unit", "time")]), ]
long <- do.call(rbind, lapply(0:(units - 1), function(i) {
  v <- e$time[e$unit == i]
  cut <- c(0, v, if (!any(v == ends[i + 1])) ends[i + 1])
  data.frame(unit = i, start = head(cut, -1), stop = cut[-1], event = as.integer(cut[-1] %in% v))
}))
f <- survfit(Surv(start, stop, event) ~ 1, data = long, cluster = unit, stype = 2)
for (t in c(4, 9, 15)) {
  s <- summary(f, times = t)
  add("recurrent-distinct", "mcf-package", t, s$cumhaz, 1e-11)
  add("recurrent-distinct", "mcf-package-error", t, s$std.chaz, 1e-9)
}

# Tests of normality on invented readings.
for (m in c(5, 11, 12, 40, 300)) {
  y <- round(rgamma(m, 9) * 10, 3)
  set <- paste0("readings-", m)
  plain <- rbind(plain, data.frame(set = set, unit = 0:(m - 1), time = y, cause = 0, group = 0, x1 = 0, x2 = 0))
  s <- shapiro.test(y)
  add(set, "shapiro-w", 0, as.numeric(s$statistic), 1e-12)
  add(set, "shapiro-p", 0, s$p.value, 1e-8)
  if (m >= 8) {
    s <- ad.test(y)
    add(set, "anderson-darling", 0, as.numeric(s$statistic), 1e-10)
    add(set, "anderson-darling-p", 0, s$p.value, 1e-8)
  }
}
s <- shapiro.test(MASS::michelson$Speed)
add("michelson", "shapiro-w", 0, as.numeric(s$statistic), 1e-12)
add("michelson", "shapiro-p", 0, s$p.value, 1e-9)
s <- shapiro.test(as.numeric(precip))
add("precip", "shapiro-w", 0, as.numeric(s$statistic), 1e-12)
add("precip", "shapiro-p", 0, s$p.value, 1e-9)

# A balanced nested layout: 8 parts, 3 setups in each, 2 readings in each; group = part, x1 = setup.
nested <- expand.grid(reading = 0:1, setup = 0:2, part = 0:7)
y <- round(100 + rnorm(8, 0, 3)[nested$part + 1] + rnorm(24, 0, 2)[nested$part * 3 + nested$setup + 1] + rnorm(48, 0, 0.7), 2)
plain <- rbind(plain, data.frame(set = "nested", unit = 0:47, time = y, cause = nested$reading, group = nested$part, x1 = nested$setup, x2 = 0))
m <- lmer(y ~ 1 + (1 | part) + (1 | part:setup), data = nested,
          control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12)))
v <- as.data.frame(VarCorr(m))
add("nested", "variance-subgroups", 0, v$vcov[1], 1e-5)
add("nested", "variance-groups", 0, v$vcov[2], 1e-5)
add("nested", "variance-readings", 0, v$vcov[3], 1e-5)
a <- anova(lm(y ~ factor(part) / factor(setup), data = nested))
add("nested", "ms-groups", 0, a[1, 3], 1e-10)
add("nested", "ms-subgroups", 0, a[2, 3], 1e-10)
add("nested", "ms-readings", 0, a[3, 3], 1e-10)

# A one-way layout that is not balanced: the same readings, first two, then three, … of each part.
unbalanced <- nested[nested$setup * 2 + nested$reading < 2 + nested$part %% 4, ]
y2 <- y[nested$setup * 2 + nested$reading < 2 + nested$part %% 4]
a <- anova(lm(y2 ~ factor(unbalanced$part)))
size <- (length(y2) - sum(table(unbalanced$part)^2) / length(y2)) / 7
add("unbalanced", "ms-between", 0, a[1, 3], 1e-10)
add("unbalanced", "ms-within", 0, a[2, 3], 1e-10)
add("unbalanced", "variance-between", 0, (a[1, 3] - a[2, 3]) / size, 1e-10)
add("unbalanced", "p-value", 0, a[1, 5], 1e-9)

write.csv(rbind(plain, recurrent), "statistics-survival-data.csv", row.names = FALSE, quote = FALSE)
write.csv(out, "statistics-survival.csv", row.names = FALSE, quote = FALSE)
cat(nrow(out), "rows\n")
