module dryfit

go 1.26
