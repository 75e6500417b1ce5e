# Reference numbers for the sample scenarios/samples/hub-bond-dose.csv, limits 5 and 11 J/cm2: (Rscript capability_sample.R; /usr/bin/python3 capability_sample.py) > capability-sample.csv
# (limits of the noncentral t come from the second: the noncentrality of pt() ends at 37.6)
library(nortest)
d <- read.csv("../../../scenarios/samples/hub-bond-dose.csv", comment.char = "#", check.names = FALSE)
x <- d[["dose [J/cm2]"]]; g <- factor(d$setup); n <- length(x); m <- mean(x); s <- sd(x); L <- 5; U <- 11
out <- function(id, value) cat(sprintf("%s,%.15g\n", id, value))
cat("# made by capability_sample.R and capability_sample.py\nid,value\n")
out("count", n); out("mean", m); out("sd", s)
ci <- t.test(x)$conf.int; out("mean_lower", ci[1]); out("mean_upper", ci[2])
out("sd_lower", s * sqrt((n - 1) / qchisq(0.975, n - 1))); out("sd_upper", s * sqrt((n - 1) / qchisq(0.025, n - 1)))
pp <- (U - L) / (6 * s); out("pp", pp); out("pp_lower", pp * sqrt(qchisq(0.025, n - 1) / (n - 1))); out("pp_upper", pp * sqrt(qchisq(0.975, n - 1) / (n - 1)))
ppl <- (m - L) / (3 * s); ppu <- (U - m) / (3 * s); ppk <- min(ppl, ppu); out("ppl", ppl); out("ppu", ppu); out("ppk", ppk)
se <- sqrt(1 / (9 * n) + ppk^2 / (2 * (n - 1))); out("ppk_lower", ppk - qnorm(0.975) * se); out("ppk_upper", ppk + qnorm(0.975) * se); out("ppk_one_sided", ppk - qnorm(0.95) * se)
a <- anova(lm(x ~ g)); within <- sqrt(a["Residuals", "Mean Sq"]); df <- a["Residuals", "Df"]
out("within", within); out("within_lower", within * sqrt(df / qchisq(0.975, df))); out("within_upper", within * sqrt(df / qchisq(0.025, df)))
out("cpk", min(m - L, U - m) / (3 * within)); out("cp", (U - L) / (6 * within)); out("cp_lower", (U - L) / (6 * within) * sqrt(qchisq(0.025, df) / df)); out("groups_p", a["g", "Pr(>F)"])
ad <- ad.test(x); out("ad_modified", unname(ad$statistic) * (1 + 0.75 / n + 2.25 / n^2)); out("ad_p", ad$p.value)
sw <- shapiro.test(x); out("sw", unname(sw$statistic)); out("sw_p", sw$p.value)
out("outside_upper_one_sided", binom.test(0, n, alternative = "less")$conf.int[2])
out("fitted", pnorm(L, m, s) + pnorm(U, m, s, lower.tail = FALSE))
xs <- sort(x); r <- which(pbinom(0:(n - 1), n, 0.5) <= 0.025); lo <- max(r); out("x50", median(x)); out("x50_lower", xs[lo]); out("x50_upper", xs[n + 1 - lo])
# Exact two-sided factor: 2 * integral over z > 0 of phi(z) P(chi2 >= (n-1) r(z)^2 / k^2) = confidence, pnorm(z/sqrt(n) + r) - pnorm(z/sqrt(n) - r) = coverage
cover <- function(k, p) { f <- function(z) sapply(z, function(v) { b <- v / sqrt(n)
  r <- uniroot(function(r) pnorm(b + r) - pnorm(b - r) - p, c(0, b + 10), tol = 1e-13)$root; dnorm(v) * pchisq((n - 1) * r^2 / k^2, n - 1, lower.tail = FALSE) })
  2 * integrate(f, 0, 8, rel.tol = 1e-10, subdivisions = 500)$value }
out("k2", uniroot(function(k) cover(k, 0.99) - 0.95, c(2.5, 4), tol = 1e-10)$root)
u <- 0.04 * min(x) / 2; out("worst_conformance", pnorm((U - min(x)) / u) - pnorm((L - min(x)) / u)); out("accept_lower", L / 0.96); out("accept_upper", U / 1.04)
for (i in c(1, 30, 60)) { out(paste0("plot_z_", i), qnorm((i - 0.375) / (n + 0.25))); out(paste0("plot_lower_", i), m + s * qnorm(qbeta(0.025, i, n + 1 - i))); out(paste0("plot_upper_", i), m + s * qnorm(qbeta(0.975, i, n + 1 - i))) }
